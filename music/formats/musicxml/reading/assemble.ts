import { keyOfSignature } from '../../../pitch/key.ts';
import { SCORE_LIMITS } from '../../../score/limits.ts';
import { find, named } from '../../../score/key-finding.ts';
import type { ChordAt, KeyAt, Note, Score, Section, Ticks, Voice } from '../../../score/score.ts';
import {
  foundSections,
  sayRefrain,
  usualForm,
  type SectionStart,
} from '../../../score/sections.ts';
import { clefByPitch } from '../../clef-by-pitch.ts';
import { quoted, type Report } from '../../report.ts';
import { defaultVoices } from '../default-voices.ts';
import type { OwnField } from '../own-field.ts';
import { barsOf, frameOf, merged, type Frame } from './bars.ts';
import type { HeaderReader } from './header-reader.ts';
import type { ReadNote } from './read-note.ts';
import type { ReadPart } from './read-part.ts';
import { setSaid } from './said.ts';
import { temposOf } from './tempos.ts';
import { MOST_VERSES, takeLabels, verseNames, versesOf } from './verses.ts';
import { place, voicesIn, type ReadVoice } from './voices.ts';

/** A score from everything a file says, or null where it cannot be whole (the report says why). */
export function assemble(
  all: readonly ReadPart[],
  header: HeaderReader,
  report: Report,
): Score | null {
  const parts = soundingParts(all, header, report);
  const nameOf = (part: ReadPart): string =>
    header.partNames.get(part.id)?.trim() || `part ${part.id}`;
  const where = (part: ReadPart) => (note: ReadNote) =>
    `Bar ${part.measures[note.measure]?.number ?? '?'} of ${nameOf(part)}`;
  if (parts.length === 0 || report.problems.length > 0) return null;
  const frame = frameOf(parts, nameOf, report);
  if (!frame) return null;
  const readVoices = parts.flatMap((part) => voicesIn(part, where(part), report));
  if (readVoices.length > SCORE_LIMITS.voices) {
    const words = `This score has ${String(readVoices.length)} voices; a song holds ${String(SCORE_LIMITS.voices)} at most.`;
    report.problem('too-many-voices', words, { line: 1 });
  }
  if (report.problems.length > 0) return null;
  const own = header.own;
  const names = own.verses
    ? Array.from({ length: Math.min(own.verses.length, MOST_VERSES) }, (_, i) => String(i + 1))
    : verseNames(parts);
  const labels = takeLabels(parts, names, own.verses ?? []);
  setSaid(readVoices, frame, nameOf, report);
  const lines = new Map<Note, number>();
  const placed = readVoices.map((voice) => {
    const verseIndex = (verse: string): number => names.indexOf(verse);
    const notes = place(voice, { frame, where: where(voice.part), report, verseIndex });
    for (const { note, from } of notes) if (from) lines.set(note, from.line);
    return notes.map(({ note }) => note);
  });
  const { voices, clashing } = voicesOf(parts, readVoices, placed, header);
  const first = voices.find((voice) => voice.notes.some((note) => note.syllables)) ?? voices[0];
  if (!first || clashing) return null;
  const melody = voices.find(({ id }) => id === own.melody) ?? first;
  const bars = barsOf(parts, frame, report);
  const verses = own.verses ?? versesOf(labels, header.printed);
  const sections = sectionsOf(parts, frame, melody, labels.length, own, lines, report);
  return {
    facts: header.facts(),
    ...temposOf(parts, frame, bars, report),
    keys: keysOf(parts, frame, voices, own, report),
    meters: frame.meters,
    bars,
    voices,
    melody: melody.id,
    chords: chordsOf(parts, frame, report),
    sections,
    verses,
    form: formOf(own, sections) ?? usualForm(sections, verses),
    introduction: (own.introduction ?? []).filter(({ to }) => to <= frame.end),
    ...(own.untimed && { untimed: true as const }),
    ...(own.compass && { compass: own.compass }),
  };
}

/** The parts that have notes; the others are told. */
function soundingParts(all: readonly ReadPart[], header: HeaderReader, report: Report): ReadPart[] {
  for (const part of all) {
    if (part.leftOut.size === 0) continue;
    const name = header.partNames.get(part.id)?.trim() || part.id;
    const list = [...part.leftOut].sort().join(', ');
    const words = `Left out of ${quoted(name)}, because a song has no place for them: ${list}.`;
    report.warn('info-left-out', words, { line: part.measures[0]?.line ?? 1 });
  }
  const parts = all.filter(({ notes }) => notes.length > 0);
  if (parts.length > 0) {
    for (const part of all.filter(({ notes }) => notes.length === 0)) {
      const name = header.partNames.get(part.id)?.trim() || part.id;
      const words = `The part ${quoted(name)} has no notes with pitches; it is left out.`;
      report.warn('part-empty', words, { line: part.measures[0]?.line ?? 1 });
    }
  } else if (report.problems.length === 0) {
    report.problem('no-music', 'This score has no notes.', { line: 1 });
  }
  return parts;
}

function voicesOf(
  parts: readonly ReadPart[],
  read: readonly ReadVoice[],
  placed: readonly Note[][],
  header: HeaderReader,
): { voices: Voice[]; clashing: boolean } {
  const shapes = parts.map((part) => ({
    id: part.id,
    name: header.partNames.get(part.id) ?? '',
    staves: Math.max(
      part.staves,
      ...read.filter((voice) => voice.part === part).map(({ staff }) => staff),
    ),
    voices: read.filter((voice) => voice.part === part),
  }));
  const usual = defaultVoices(shapes);
  const ownVoices = header.own.voices ?? [];
  const own =
    ownVoices.length === usual.length &&
    new Set(ownVoices.map(({ id }) => id)).size === usual.length;
  const naming = own ? ownVoices : usual;
  const clefs = new Map<number, Voice['clef']>();
  const voices = read.map((voice, i) => {
    const { id, name, group, staff, order } = naming[i] as (typeof naming)[number];
    const notes = placed[i] ?? [];
    const clef = clefs.get(staff) ?? clefOf(voice, notes);
    clefs.set(staff, clef);
    return { voice: { id, name, group, staff, clef, notes } satisfies Voice, order };
  });
  const ids = new Set(voices.map(({ voice }) => voice.id));
  return {
    voices: voices.sort((a, b) => a.order - b.order).map(({ voice }) => voice),
    clashing: ids.size !== voices.length,
  };
}

/** The clef of the file; a part that sounds an octave below its notes has the clef that says so. */
function clefOf({ part, staff }: ReadVoice, notes: readonly Note[]): Voice['clef'] {
  const clef = part.clefs.get(staff);
  if (clef === undefined || clef === 'other') return clefByPitch(notes);
  const lower = part.transpose.steps === -7 && part.transpose.semitones === -12;
  if (lower && (clef === 'treble' || clef === 'bass')) return `${clef}-8`;
  return clef;
}

function keysOf(
  parts: readonly ReadPart[],
  frame: Frame,
  voices: readonly Voice[],
  own: OwnField,
  report: Report,
): KeyAt[] {
  const marks = merged(parts, frame.starts, (part) =>
    part.keys.map(({ key, ...moment }) => ({ ...moment, value: key })),
  ).filter(({ at }) => at < frame.end);
  const line = parts[0]?.measures[0]?.line ?? 1;
  if (marks[0]?.at !== 0) {
    marks.unshift({ at: 0, value: { signature: 0, mode: null }, line, count: parts.length });
  }
  const noted = new Map((own.keys ?? []).map((key) => [key.at, key]));
  const changes = marks.filter(({ at, value }, i) => {
    const before = marks[i - 1]?.value;
    const same = before?.signature === value.signature && before.mode === value.mode;
    return !same || noted.has(at);
  });
  return changes.map(({ at, value: { signature, mode }, line: of, count }, i) => {
    if (at > 0 && count < parts.length) {
      const words = `The key changes here in ${String(count)} of ${String(parts.length)} parts only.`;
      report.warn('key-change-not-in-all', words, { line: of });
    }
    const entry = noted.get(at);
    if (entry?.entry) return { at, signature, ...entry.entry };
    const to = changes[i + 1]?.at ?? Infinity;
    const found =
      mode !== null && !entry?.found
        ? named(keyOfSignature(signature, mode))
        : find(signature, voices, at, to);
    if (!found.sure) report.warn('guess-key', found.reason, { line: of });
    return { at, signature, ...found };
  });
}

/** Chord symbols of all parts, each lasting until the next. */
function chordsOf(parts: readonly ReadPart[], frame: Frame, report: Report): ChordAt[] {
  const marks = parts.flatMap((part) =>
    part.chords.map(({ measure, at, line, chord }) => {
      return { at: (frame.starts[measure] ?? 0) + at, line, chord };
    }),
  );
  const chords: { at: Ticks; chord: ChordAt['chord'] }[] = [];
  for (const { at, line, chord } of marks.sort((a, b) => a.at - b.at)) {
    const last = chords.at(-1);
    if (at >= frame.end) continue;
    if (last?.at !== at) chords.push({ at, chord });
    else if (JSON.stringify(last.chord) !== JSON.stringify(chord)) {
      const words = 'Two different chord symbols stand at one moment; the first is kept.';
      report.warn('chords-at-once', words, { line });
    }
  }
  return chords.map((each, i) => ({
    at: each.at,
    length: (chords[i + 1]?.at ?? frame.end) - each.at,
    chord: each.chord,
  }));
}

function sectionsOf(
  parts: readonly ReadPart[],
  frame: Frame,
  melody: Voice,
  verses: number,
  own: OwnField,
  lines: ReadonlyMap<Note, number>,
  report: Report,
): readonly Section[] {
  const noted = own.sections ?? [];
  const covers =
    noted[0]?.from === 0 &&
    noted.at(-1)?.to === frame.end &&
    noted.every(({ to }, i) => i === noted.length - 1 || noted[i + 1]?.from === to) &&
    new Set(noted.map(({ id }) => id)).size === noted.length;
  if (covers) return noted;
  const starts: SectionStart[] = merged(parts, frame.starts, (part) =>
    part.said.flatMap(({ said, ...moment }) =>
      said.kind === 'section' ? [{ ...moment, value: said.text.replace(/\s+/g, ' ').trim() }] : [],
    ),
  )
    .filter(({ at }) => at < frame.end)
    .map(({ at, value }) => ({ at, name: value }));
  const { sections, refrain } = foundSections(starts, melody.notes, verses, frame.end);
  if (refrain) {
    const note = melody.notes.find(({ at }) => at === refrain.at);
    const line = (note && lines.get(note)) ?? 1;
    report.warn(refrain.missing === null ? 'guess-refrain' : 'words-missing', sayRefrain(refrain), {
      line,
    });
  }
  return sections;
}

/** The form that our own writer noted, where it fits the sections that are here. */
function formOf(own: OwnField, sections: readonly Section[]): OwnField['form'] | null {
  const fits = own.form?.every(({ section }) => sections.some(({ id }) => id === section));
  return fits ? own.form : null;
}
