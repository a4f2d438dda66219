import { find, named } from '../../score/key-finding.ts';
import type {
  Bar,
  ChordAt,
  KeyAt,
  MeterAt,
  Score,
  Section,
  Ticks,
  Voice,
} from '../../score/score.ts';
import { heldAtEnds } from '../../score/held-words.ts';
import { usualForm } from '../../score/sections.ts';
import { sayLeft, temposFrom } from '../../score/tempos.ts';
import { agreedLines, barsOf } from './bars.ts';
import type { KeyField } from './fields.ts';
import { finishVoices } from './finish-voices.ts';
import { alignWords } from './lyrics.ts';
import type { Mark } from './marks.ts';
import { chordsOf, introductionOf, namedSections, orderedForm, ownForm } from './moments.ts';
import { quoted, type Report } from '../report.ts';
import { findSections } from './sections.ts';
import type { ReadTune } from './read-tune.ts';
import { versesOf } from './verses.ts';
import type { VoiceReader } from './voice-reader.ts';

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
  const untimed = tune.own.some(({ name }) => name === 'untimed');
  // Of a song without time the words below the music are those at its rests, for readers that have no others.
  const verses = versesOf(sung, untimed ? [] : tune.printed);
  const done = finishVoices(tune, voices);
  const sections = findSections(
    namedSections(voices),
    melody.main.notes,
    sung.labels.length,
    end,
    report,
  );
  for (const { name, value } of tune.own) if (name === 'tune') tune.facts.tune(value);
  const ownMelody = tune.own.find(({ name }) => name === 'melody')?.value ?? '';
  return {
    facts: tune.facts.facts(),
    ...temposOf(tune, voices, bars, report),
    keys: keysOf(tune, voices, done, report),
    meters,
    bars,
    voices: done.map((each) => ({ ...each, notes: heldAtEnds(each.notes, sections) })),
    melody: done.some(({ id }) => id === ownMelody) ? ownMelody : melody.settings.id,
    chords: untimed
      ? inSections(chordsOf(voices, end, report), sections)
      : chordsOf(voices, end, report),
    sections,
    verses,
    form:
      ownForm(tune, sections, report) ??
      orderedForm(tune, sections, verses, report) ??
      usualForm(sections, verses),
    introduction: introductionOf(voices, end, report),
    ...(untimed && { untimed: true as const }),
  };
}

/** In a song without time a chord lasts no longer than its section. */
function inSections(chords: readonly ChordAt[], sections: readonly Section[]): ChordAt[] {
  return chords.map((chord) => {
    const to = sections.find((each) => chord.at >= each.from && chord.at < each.to)?.to ?? Infinity;
    return { ...chord, length: Math.min(chord.length, to - chord.at) };
  });
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

function metersOf(tune: ReadTune, voices: readonly VoiceReader[], report: Report): MeterAt[] {
  const changes = mergedMarks(voices, (voice) => voice.meters, report, 'meter');
  const meters: MeterAt[] = [{ at: 0, meter: tune.meter }];
  for (const { at, meter } of changes) {
    if (at === 0) meters[0] = { at, meter };
    else meters.push({ at, meter });
  }
  return meters;
}

/** A tempo is that of all voices, whichever says it; of two at one moment the later word counts at the start, then the first. */
function temposOf(
  tune: ReadTune,
  voices: readonly VoiceReader[],
  bars: readonly Bar[],
  report: Report,
): Pick<Score, 'tempo' | 'tempoChanges'> {
  const said = voices.flatMap(({ tempos }) => tempos).sort((a, b) => a.at - b.at);
  const later = said.filter(({ at }, i) => at !== said[i - 1]?.at);
  const head = tune.tempo && later[0]?.at !== 0 ? [{ at: 0, tempo: tune.tempo }] : [];
  const read = temposFrom([...head, ...later], bars);
  if (read.left > 0) report.warn('tempo-changes', sayLeft(read.left), { line: tune.lastLine });
  return read.tempos;
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
