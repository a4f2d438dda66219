import { midiOf } from '../../../pitch/pitch.ts';
import type { Note, Syllable, Ticks } from '../../../score/score.ts';
import type { Report } from '../../report.ts';
import type { Frame } from './bars.ts';
import type { ReadNote } from './read-note.ts';
import type { ReadPart } from './read-part.ts';

/** A voice of the file with its notes in order, still as the file has them. */
export interface ReadVoice {
  readonly part: ReadPart;
  /** As the file calls it. */
  readonly name: string;
  /** In its part, from 1. */
  readonly staff: number;
  readonly notes: readonly ReadNote[];
}

/** The voices of a part: from the top staff down, in the order in which the file brings them. */
export function voicesIn(
  part: ReadPart,
  where: (note: ReadNote) => string,
  report: Report,
): ReadVoice[] {
  const byName = new Map<string, ReadNote[]>();
  for (const note of part.notes) {
    const list = byName.get(note.voice);
    if (list) list.push(note);
    else byName.set(note.voice, [note]);
  }
  const voices: ReadVoice[] = [];
  for (const [name, notes] of byName) {
    // Some programs number the voices of every staff from 1 again.
    const staves = overlap(inOrder(notes)) ? [...new Set(notes.map(({ staff }) => staff))] : [0];
    for (const staff of staves) {
      const own = inOrder(notes.filter((note) => staff === 0 || note.staff === staff));
      const clash = overlap(own);
      if (clash) {
        const words = `${where(clash)} has two notes at once in one voice, and nobody can tell which is meant.`;
        report.problem('notes-overlap', words, { line: clash.line });
      }
      voices.push({ part, name, staff: mainStaff(own), notes: own });
    }
  }
  return voices
    .map((voice, order) => ({ voice, order }))
    .sort((a, b) => a.voice.staff - b.voice.staff || a.order - b.order)
    .map(({ voice }) => voice);
}

/** By time; a rest for a whole measure gives way to notes in that measure. */
function inOrder(notes: readonly ReadNote[]): ReadNote[] {
  const filled = new Set(
    notes.filter(({ wholeMeasure }) => !wholeMeasure).map(({ measure }) => measure),
  );
  const rested = new Set<number>();
  return notes
    .filter(({ wholeMeasure, measure }) => {
      if (!wholeMeasure) return true;
      if (filled.has(measure) || rested.has(measure)) return false;
      rested.add(measure);
      return true;
    })
    .sort((a, b) => a.measure - b.measure || a.at - b.at);
}

/** The first note that begins before the one before it has ended. */
function overlap(notes: readonly ReadNote[]): ReadNote | null {
  return (
    notes.find((note, i) => {
      const before = notes[i - 1];
      return before?.measure === note.measure && before.at + before.length > note.at;
    }) ?? null
  );
}

/** Where most notes of a voice stand: it may cross to the other staff. */
function mainStaff(notes: readonly ReadNote[]): number {
  const count = new Map<number, number>();
  for (const { staff } of notes) count.set(staff, (count.get(staff) ?? 0) + 1);
  return [...count].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? 1;
}

/** A note on the time line, with the one it came from; gaps have none. */
export interface PlacedNote {
  readonly note: Note;
  readonly from: ReadNote | null;
}

export interface PlaceOptions {
  readonly frame: Frame;
  readonly where: (note: ReadNote) => string;
  readonly report: Report;
  /** The place of a verse in `Note.syllables`. */
  readonly verseIndex: (verse: string) => number;
}

/** The notes of a voice on the time line, without gaps. */
export function place(voice: ReadVoice, options: PlaceOptions): PlacedNote[] {
  const { frame, where, report } = options;
  const slurs = matchSlurs(voice.notes, where, report);
  const placed: PlacedNote[] = [];
  let at = 0;
  const fill = (to: Ticks): void => {
    while (at < to) {
      const bar = frame.starts.findLastIndex((start) => start <= at);
      const until = Math.min(to, (frame.starts[bar] ?? 0) + (frame.lengths[bar] ?? 0));
      placed.push({ note: { at, length: until - at, pitches: [], hidden: true }, from: null });
      at = until;
    }
  };
  let partly: ReadNote | null = null;
  for (const [i, read] of voice.notes.entries()) {
    const start = (frame.starts[read.measure] ?? 0) + read.at;
    if (start > at && voice.notes[i - 1]?.measure === read.measure) partly ??= read;
    fill(start);
    const length = read.wholeMeasure ? (frame.lengths[read.measure] ?? 0) : read.length;
    const next = voice.notes[i + 1];
    tellTwice(read, where, report);
    const note = finished(read, start, length, options.verseIndex, slurs);
    placed.push({ note, from: read });
    at = start + length;
    const barEnd = (frame.starts[read.measure] ?? 0) + (frame.lengths[read.measure] ?? 0);
    if (next?.measure !== read.measure && at < barEnd) partly ??= read;
  }
  fill(frame.end);
  if (partly) {
    const words = `${where(partly)} does not fill its bar in every voice; what is missing is taken for rests.`;
    report.warn('bar-not-filled', words, { line: partly.line });
  }
  return joined(tied(placed, where, report));
}

/** Notes that our own writer had to cut, at a bar line or because no value says their length, are whole again. */
function joined(placed: readonly PlacedNote[]): PlacedNote[] {
  const whole: PlacedNote[] = [];
  for (const { note, from } of placed) {
    const before = whole.at(-1);
    const goesOn =
      from?.goesOn &&
      before?.note.pitches.join() === note.pitches.join() &&
      (note.pitches.length === 0 || before.note.tie);
    if (!goesOn || !before) {
      whole.push({ note, from });
      continue;
    }
    const { tie: _tie, ...start } = before.note;
    const { tie, fermata, slurEnds = 0 } = note;
    const ends = (start.slurEnds ?? 0) + slurEnds;
    const signs = [...(start.signs ?? []), ...(note.signs ?? [])];
    whole[whole.length - 1] = {
      note: {
        ...start,
        length: start.length + note.length,
        ...(ends > 0 && { slurEnds: ends }),
        ...(tie && { tie }),
        ...(fermata && { fermata }),
        ...(signs.length > 0 && { signs }),
      },
      from: before.from,
    };
  }
  return whole;
}

/** A verse has one syllable on a note; a file can have more (a verse and a chorus of one number). */
function tellTwice(note: ReadNote, where: (note: ReadNote) => string, report: Report): void {
  const { lyrics, line } = note;
  const twice = lyrics.find(
    ({ verse }, i) => lyrics.findIndex((other) => other.verse === verse) < i,
  );
  if (!twice) return;
  const words = `${where(note)} has “${twice.text}” where its verse has another syllable already; it is left out.`;
  report.warn('words-twice', words, { line });
}

type Slurs = ReadonlyMap<ReadNote, { starts: number; ends: number }>;

/** Slurs whose two ends are found; the others are told. */
function matchSlurs(
  notes: readonly ReadNote[],
  where: (note: ReadNote) => string,
  report: Report,
): Slurs {
  const found = new Map<ReadNote, { starts: number; ends: number }>();
  const of = (note: ReadNote) => {
    const known = found.get(note) ?? { starts: 0, ends: 0 };
    found.set(note, known);
    return known;
  };
  const open = new Map<string, ReadNote>();
  const tell = (note: ReadNote): void => {
    const words = `${where(note)} has a slur with only one end in its voice; it is left out.`;
    report.warn('slur-open', words, { line: note.line });
  };
  for (const note of notes) {
    for (const number of note.slurStops) {
      const begun = open.get(number);
      open.delete(number);
      if (!begun) tell(note);
      else {
        of(begun).starts += 1;
        of(note).ends += 1;
      }
    }
    for (const number of note.slurStarts) {
      const before = open.get(number);
      if (before) tell(before);
      open.set(number, note);
    }
  }
  for (const note of open.values()) tell(note);
  return found;
}

function finished(
  read: ReadNote,
  at: Ticks,
  length: Ticks,
  verseIndex: (verse: string) => number,
  slurs: Slurs,
): Note {
  const pitches = [...read.pitches].sort((a, b) => midiOf(a.name) - midiOf(b.name));
  const fingers = pitches.flatMap(({ finger }) => finger ?? []);
  const syllables: (Syllable | null)[] = [];
  for (const { verse, text, hyphen } of read.lyrics) {
    const index = verseIndex(verse);
    if (index < 0) continue;
    while (syllables.length <= index) syllables.push(null);
    syllables[index] ??= { text, ...(hyphen && { hyphen: true as const }) };
  }
  const { starts = 0, ends = 0 } = slurs.get(read) ?? {};
  return {
    at,
    length,
    pitches: pitches.map(({ name }) => name),
    ...(syllables.length > 0 && { syllables }),
    ...(starts > 0 && { slurStarts: starts }),
    ...(ends > 0 && { slurEnds: ends }),
    ...(read.fermata && { fermata: true as const }),
    ...(read.tuplet && { tuplet: read.tuplet }),
    ...(read.grace.length > 0 && { grace: read.grace }),
    ...(read.hidden && { hidden: true as const }),
    ...(read.beam && { beam: true as const }),
    ...(fingers.length > 0 && fingers.length === pitches.length && { fingers }),
    ...(read.above.length > 0 && { above: read.above.join(', ') }),
    ...(read.signs.length > 0 && { signs: read.signs }),
    ...(read.soft && pitches.length > 0 && { soft: true as const }),
    ...(read.pedal && { pedal: read.pedal }),
  };
}

/** Ties that lead to the same pitch; a chord is tied where all pitches that it shares with the next are. */
function tied(
  placed: readonly PlacedNote[],
  where: (note: ReadNote) => string,
  report: Report,
): PlacedNote[] {
  return placed.map(({ note, from }, i) => {
    const ties = from?.pitches.filter((pitch) => pitch.tied).map(({ name }) => name) ?? [];
    if (!from || ties.length === 0) return { note, from };
    const next = placed[i + 1]?.note.pitches ?? [];
    const shared = note.pitches.filter((name) => next.includes(name));
    const held = ties.filter((name) => shared.includes(name));
    if (held.length > 0 && held.length === shared.length) {
      return { note: { ...note, tie: true as const }, from };
    }
    const words =
      held.length === 0
        ? `${where(from)} has a tie that leads to no note of the same pitch; it is left out.`
        : `${where(from)} ties only some of the notes that stay; all are struck again.`;
    report.warn(held.length === 0 ? 'tie-nowhere' : 'tie-in-part', words, { line: from.line });
    return { note, from };
  });
}
