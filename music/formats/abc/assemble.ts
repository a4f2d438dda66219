import type {
  ChordAt,
  KeyAt,
  MeterAt,
  Note,
  Pass,
  Score,
  Section,
  Span,
  Ticks,
  Voice,
} from '../../score/score.ts';
import type { Chord } from '../../pitch/chord.ts';
import { read as readChord } from '../../pitch/chord-symbol.ts';
import type { Result } from '../../result.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { find, named } from '../../score/key-finding.ts';
import { agreedLines, barsOf } from './bars.ts';
import type { KeyField } from './fields.ts';
import type { ReadNote } from './layer.ts';
import { alignWords } from './lyrics.ts';
import { quoted, type Report } from './report.ts';
import { findSections, kindOf, usualForm, type SectionStart } from './sections.ts';
import { plain } from './text.ts';
import type { ReadTune } from './tune.ts';
import { versesOf } from './verses.ts';
import type { Mark, VoiceReader } from './voice-reader.ts';

/** A score from everything a tune says, or null where it cannot be whole (the report says why). */
export function assemble(tune: ReadTune, report: Report): Score | null {
  const voices = soundingVoices(tune, report);
  const melody = voices[0];
  if (!melody) {
    report.problem('no-music', 'This tune has no notes.', { line: tune.lastLine });
    return null;
  }
  const meters = metersOf(tune, voices, report);
  const starts = agreedLines(voices, tune.meter, report);
  if (report.problems.length > 0 || !starts) return null;
  const end = melody.main.time;
  const bars = barsOf(starts, end, voices, meters, report);
  if (bars.at(-1)?.line === 'none' && !melody.bars.some((bar) => bar.at === end)) {
    const line = melody.main.last?.line ?? tune.lastLine;
    report.warn(
      'no-last-bar-line',
      'The music ends without a bar line; perhaps something is missing.',
      { line },
    );
  }
  const sung = alignWords(voices, report);
  for (const words of sung.homeless) tune.facts.add('words without notes', words);
  const verses = versesOf(sung, tune.printed);
  const done = finishVoices(tune, voices);
  const sectionStarts = voices.flatMap((voice) => [
    ...voice.parts.map(({ at, name }): SectionStart => ({ at, name })),
    ...labelled(voice.main.notes),
  ]);
  const named1 = inOrder(sectionStarts);
  const sections = findSections(named1, melody.main.notes, sung.labels.length, end, report);
  for (const [name, value] of tune.own) if (name === 'tune') tune.facts.tune(value);
  const ownMelody = tune.own.find(([name]) => name === 'melody')?.[1] ?? '';
  return {
    facts: tune.facts.facts(),
    tempo: tune.tempo,
    keys: keysOf(tune, voices, done, report),
    meters,
    bars,
    voices: done,
    melody: done.some(({ id }) => id === ownMelody) ? ownMelody : melody.settings.id,
    chords: chordsOf(voices, end, report),
    sections,
    verses,
    form: ownForm(tune, sections, report) ?? usualForm(sections, verses),
    introduction: introductionOf(voices, end, report),
  };
}

/** The voices that have notes, in the order of their staves; the others are told. */
function soundingVoices(tune: ReadTune, report: Report): VoiceReader[] {
  const { staves } = tune;
  for (const id of staves?.keys() ?? []) {
    const voice = tune.voices.find((each) => each.settings.id === id);
    if (!voice || voice.main.notes.length === 0) {
      const line = voice?.settings.line ?? tune.voices[0]?.settings.line ?? tune.lastLine;
      report.warn(
        'voice-empty',
        `Voice ${quoted(id)} is announced but has no music; it is left out.`,
        { line },
      );
    }
  }
  const order = [...(staves?.keys() ?? [])];
  const place = (voice: VoiceReader): number => {
    const index = order.indexOf(voice.settings.id);
    return index < 0 ? order.length : index;
  };
  return tune.voices
    .filter((voice) => voice.main.notes.length > 0)
    .map((voice, i) => ({ voice, i }))
    .sort((a, b) => place(a.voice) - place(b.voice) || a.i - b.i)
    .map(({ voice }) => voice);
}

function finishVoices(tune: ReadTune, voices: readonly VoiceReader[]): Voice[] {
  const staffNumbers: number[] = [];
  const ids = new Set(voices.map((voice) => voice.settings.id));
  let free = 0;
  for (const place of tune.staves?.values() ?? []) free = Math.max(free, place.staff);
  const clefs = new Map<number, Voice['clef']>();
  const groups = new Map<string, string>();
  for (const [name, value] of tune.own) {
    if (name !== 'group') continue;
    const [group = '', ...members] = value.split(' ');
    for (const id of members) groups.set(id, plain(group));
  }
  return voices.flatMap((voice) => {
    const { id, name } = voice.settings;
    const place = tune.staves?.get(id) ?? { staff: (free += 1), brace: null };
    if (!staffNumbers.includes(place.staff)) staffNumbers.push(place.staff);
    const staff = staffNumbers.indexOf(place.staff) + 1;
    const group = groups.get(id) ?? (place.brace === null ? 'Hymn' : 'Keyboard');
    const clef = voice.settings.clef ?? clefs.get(staff) ?? clefByPitch(voice.main.notes);
    if (!clefs.has(staff)) clefs.set(staff, clef);
    const own: Voice = { id, name, group, staff, clef, notes: voice.main.notes.map(finished) };
    const over = voice.overlays
      .filter((layer) => layer.notes.some((note) => note.pitches.length > 0 || !note.hidden))
      .map((layer, i): Voice => {
        const overId = freeId(id, i, ids);
        return { id: overId, name: overId, group, staff, clef, notes: layer.notes.map(finished) };
      });
    return [own, ...over];
  });
}

/** Where no clef is named: the one that needs fewer ledger lines (middle C belongs to both). */
function clefByPitch(notes: readonly ReadNote[]): Voice['clef'] {
  const pitches = notes.flatMap((note) => note.pitches);
  const low = pitches.filter((pitch) => midiOf(pitch) < 60).length;
  return low * 2 > pitches.length ? 'bass' : 'treble';
}

/** What `&` lays over a voice becomes a voice of its own: `S2b`, `S2c`. */
function freeId(id: string, index: number, taken: Set<string>): string {
  let name = id + String.fromCharCode(98 + index);
  while (taken.has(name)) name += 'b';
  taken.add(name);
  return name;
}

function finished(note: ReadNote): Note {
  const syllables = [...note.syllables];
  while (syllables.length > 0 && !syllables.at(-1)) syllables.pop();
  return {
    at: note.at,
    length: note.length,
    pitches: note.pitches,
    ...(note.tie && { tie: true as const }),
    ...(syllables.length > 0 && { syllables }),
    ...(note.slurStarts > 0 && { slurStarts: note.slurStarts }),
    ...(note.slurEnds > 0 && { slurEnds: note.slurEnds }),
    ...(note.fermata && { fermata: true as const }),
    ...(note.tuplet && { tuplet: note.tuplet }),
    ...(note.grace.length > 0 && { grace: note.grace }),
    ...(note.hidden && { hidden: true as const }),
    ...(note.beam && { beam: true as const }),
    ...(note.fingers.length > 0 && { fingers: note.fingers }),
    ...(note.signs.length > 0 && { signs: note.signs }),
  };
}

function metersOf(tune: ReadTune, voices: readonly VoiceReader[], report: Report): MeterAt[] {
  const changes = mergedMarks(voices, (voice) => voice.meters, report, 'meter');
  const meters: MeterAt[] = [{ at: 0, meter: tune.meter }];
  for (const { at, meter } of changes) {
    if (at === 0) meters[0] = { at, meter };
    else meters.push({ at, meter });
  }
  return meters;
}

function keysOf(
  tune: ReadTune,
  voices: readonly VoiceReader[],
  done: readonly Voice[],
  report: Report,
): KeyAt[] {
  const changes = mergedMarks(voices, (voice) => voice.keys, report, 'key');
  const fields: { at: Ticks; field: KeyField }[] = [{ at: 0, field: tune.key }];
  for (const { at, field } of changes) {
    if (at === 0) fields[0] = { at, field };
    else fields.push({ at, field });
  }
  return fields.map(({ at, field }, i) => {
    const { signature, tonic, mode } = field;
    const to = fields[i + 1]?.at ?? Infinity;
    const found =
      tonic !== null && mode !== null ? named({ tonic, mode }) : find(signature, done, at, to);
    if (!found.sure) report.warn('guess-key', found.reason, { line: lineOfKey(tune, voices, at) });
    return { at, signature, ...found };
  });
}

function lineOfKey(tune: ReadTune, voices: readonly VoiceReader[], at: Ticks): number {
  const mark = voices.flatMap((voice) => voice.keys).find((each) => each.at === at);
  return mark?.line ?? voices[0]?.segments[0]?.line ?? tune.lastLine;
}

/** Changes that should stand in every voice at the same moment; the first voice that has one is followed. */
function mergedMarks<T extends Mark>(
  voices: readonly VoiceReader[],
  marksOf: (voice: VoiceReader) => readonly T[],
  report: Report,
  what: string,
): T[] {
  const merged = new Map<Ticks, T>();
  const count = new Map<Ticks, Set<VoiceReader>>();
  for (const voice of voices) {
    for (const mark of marksOf(voice)) {
      if (!merged.has(mark.at)) merged.set(mark.at, mark);
      count.set(mark.at, (count.get(mark.at) ?? new Set()).add(voice));
    }
  }
  for (const [at, mark] of merged) {
    if ((count.get(at)?.size ?? 0) < voices.length) {
      const words = `The ${what} changes here in ${String(count.get(at)?.size ?? 0)} of ${String(voices.length)} voices only.`;
      report.warn(`${what}-change-not-in-all`, words, { line: mark.line, column: mark.column });
    }
  }
  return [...merged.values()].sort((a, b) => a.at - b.at);
}

function chordsOf(voices: readonly VoiceReader[], end: Ticks, report: Report): ChordAt[] {
  const marks = voices.flatMap((voice) => voice.chords).sort((a, b) => a.at - b.at);
  const chords: ChordAt[] = [];
  const known = new Map<string, Result<Chord>>();
  for (const { at, text, line, column } of marks) {
    if (/^\s*n\.?\s*c\.?\s*$/i.test(text)) {
      addChord(chords, { at, length: 0, chord: null }, line, report);
      continue;
    }
    const read = known.get(text) ?? readChord(text);
    known.set(text, read);
    if (!read.ok) {
      const words = `${quoted(text)} is not a chord symbol: ${read.problems[0]?.message ?? ''} It is left out.`;
      report.warn('chord-not-read', words, { line, column });
    } else addChord(chords, { at, length: 0, chord: read.value }, line, report);
  }
  return chords
    .filter((chord) => chord.at < end)
    .map((chord, i, all) => ({ ...chord, length: (all[i + 1]?.at ?? end) - chord.at }));
}

function addChord(chords: ChordAt[], chord: ChordAt, line: number, report: Report): void {
  const last = chords.at(-1);
  if (last?.at !== chord.at) chords.push(chord);
  else if (JSON.stringify(last.chord) !== JSON.stringify(chord.chord)) {
    report.warn(
      'chords-at-once',
      'Two different chord symbols stand at one moment; the first is kept.',
      { line },
    );
  }
}

function introductionOf(voices: readonly VoiceReader[], end: Ticks, report: Report): Span[] {
  const spans: Span[] = [];
  let open: (Mark & { opens: boolean }) | null = null;
  const marks = voices.flatMap((voice) => voice.introduction).sort((a, b) => a.at - b.at);
  for (const mark of marks) {
    if (mark.opens) {
      if (open) report.warn('introduction-twice', 'The introduction begins twice.', open);
      else open = mark;
    } else if (open && mark.at > open.at) {
      spans.push({ from: open.at, to: mark.at });
      open = null;
    } else
      report.warn(
        'introduction-not-opened',
        'The introduction ends here but does not begin.',
        mark,
      );
  }
  if (open) {
    report.warn(
      'introduction-not-closed',
      'The introduction begins here and goes on to the end.',
      open,
    );
    if (open.at < end) spans.push({ from: open.at, to: end });
  }
  return spans;
}

/** Annotations above the staff that name a section: `"^Refrain"`. */
function labelled(notes: readonly ReadNote[]): SectionStart[] {
  return notes.flatMap((note) =>
    note.signs
      .filter(
        (sign) =>
          /^"[\^_<>@]/.test(sign) && !['other', 'ending'].includes(kindOf(sign.slice(2, -1))),
      )
      .map((sign) => ({ at: note.at, name: sign.slice(2, -1) })),
  );
}

function inOrder(starts: readonly SectionStart[]): SectionStart[] {
  const sorted = [...starts].sort((a, b) => a.at - b.at);
  return sorted.filter((start, i) => start.at !== sorted[i - 1]?.at);
}

/** The form our own writer notes down where it is not the usual one: `verse:1 refrain verse:2`. */
function ownForm(tune: ReadTune, sections: readonly Section[], report: Report): Pass[] | null {
  const own = tune.own.find(([name]) => name === 'form');
  if (!own) return null;
  const form = own[1]
    .split(' ')
    .filter((each) => each !== '')
    .map((each): Pass => {
      const [section = '', verse] = each.split(':');
      return { section, verse: verse === undefined ? null : Number(verse) };
    });
  const known = form.every(
    ({ section, verse }) => sections.some(({ id }) => id === section) && !Number.isNaN(verse),
  );
  if (known) return form;
  report.warn(
    'form-odd',
    'The form of this file names sections that it has not; the usual form is taken.',
    { line: own[2] },
  );
  return null;
}
