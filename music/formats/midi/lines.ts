import type { Ticks } from '../../score/score.ts';
import type { PartNote } from './parts.ts';

/** What one voice holds from one moment to another: at least one pitch, low to high (MIDI numbers). */
export interface Held {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly pitches: readonly number[];
  /** All pitches that the next one has too are held into it. */
  readonly tie: boolean;
}

export interface Lines {
  /** Each without overlaps, the highest first. */
  readonly lines: readonly (readonly Held[])[];
  /** Notes that were cut where the next one began. */
  readonly cut: number;
}

/** Lines that one part is divided into at most. */
const MOST_LINES = 6;

/** The notes of a part as voices. `isSingle`: it has one note at a time, so that a note ends where the next one begins. */
export function linesOf(notes: readonly PartNote[], isSingle: boolean): Lines {
  if (isSingle) return singleLine(notes);
  const sliced = slices(notes);
  if (sliced) return { lines: [sliced], cut: 0 };
  return { lines: separate(notes), cut: 0 };
}

function singleLine(notes: readonly PartNote[]): Lines {
  let cut = 0;
  const groups = chordsAt(notes);
  const line = groups.map(({ at, end, pitches }, i): Held => {
    const next = groups[i + 1]?.at ?? Infinity;
    if (end > next) cut += 1;
    return { at, end: Math.min(end, next), pitches, tie: false };
  });
  return { lines: [line], cut };
}

interface Chord {
  readonly at: Ticks;
  end: Ticks;
  pitches: number[];
}

/** Notes that begin together, as chords; they end with the last. */
function chordsAt(notes: readonly PartNote[]): Chord[] {
  const chords: Chord[] = [];
  for (const { at, end, midi } of [...notes].sort((a, b) => a.at - b.at || a.midi - b.midi)) {
    const last = chords.at(-1);
    if (last?.at === at) {
      last.end = Math.max(last.end, end);
      if (!last.pitches.includes(midi)) last.pitches.push(midi);
    } else chords.push({ at, end, pitches: [midi] });
  }
  return chords;
}

/**
 * The part as one line of chords, cut wherever a note begins or ends, with ties; null where some note is struck anew
 * while another is held that sounds on: one line cannot say that.
 */
function slices(notes: readonly PartNote[]): Held[] | null {
  const starts = new Map<Ticks, PartNote[]>();
  for (const note of notes) starts.set(note.at, [...(starts.get(note.at) ?? []), note]);
  const moments = [...new Set(notes.flatMap(({ at, end }) => [at, end]))].sort((a, b) => a - b);
  const line: Held[] = [];
  let sounding: PartNote[] = [];
  for (const [i, at] of moments.entries()) {
    const before = sounding;
    const begun = starts.get(at) ?? [];
    const held = before.filter(({ end }) => end > at);
    const struck = new Set(begun.map(({ midi }) => midi));
    const again = before.some(({ midi }) => struck.has(midi));
    if (held.some(({ midi }) => struck.has(midi)) || struck.size < begun.length) return null;
    if (again && held.length > 0) return null;
    const last = line.at(-1);
    if (last && last.end === at && held.length > 0) line[line.length - 1] = { ...last, tie: true };
    sounding = [...held, ...begun];
    const end = moments[i + 1];
    if (end === undefined || sounding.length === 0) continue;
    const pitches = [...new Set(sounding.map(({ midi }) => midi))].sort((a, b) => a - b);
    line.push({ at, end, pitches, tie: false });
  }
  return line;
}

/**
 * Divides a part into lines that have no overlap: two where never more than two notes sound together (the higher note is the upper
 * line's), else chords of equal length go to the first line that is free.
 */
function separate(notes: readonly PartNote[]): Held[][] {
  const groups = new Map<string, Chord>();
  const two = neverMoreThanTwo(notes);
  for (const { at, end, midi } of [...notes].sort((a, b) => a.at - b.at || b.midi - a.midi)) {
    const name = two ? String(groups.size) : `${String(at)} ${String(end)}`;
    const group = groups.get(name);
    if (group) group.pitches.unshift(midi);
    else groups.set(name, { at, end, pitches: [midi] });
  }
  const lines: Held[][] = [];
  for (const { at, end, pitches } of groups.values()) {
    const held: Held = { at, end, pitches: [...new Set(pitches)], tie: false };
    const line = two ? upperOrLower(held, lines) : freeLine(held, lines);
    line.push(held);
  }
  return lines.filter((line) => line.length > 0);
}

function neverMoreThanTwo(notes: readonly PartNote[]): boolean {
  const changes = notes.flatMap(({ at, end }) => [
    { at, by: 1 },
    { at: end, by: -1 },
  ]);
  changes.sort((a, b) => a.at - b.at || a.by - b.by);
  let count = 0;
  return changes.every(({ by }) => (count += by) <= 2);
}

const endOf = (line: readonly Held[] | undefined): Ticks => line?.at(-1)?.end ?? 0;

function upperOrLower(held: Held, lines: Held[][]): Held[] {
  const upper = (lines[0] ??= []);
  const lower = (lines[1] ??= []);
  if (endOf(upper) > held.at) {
    const above = upper.at(-1);
    // A higher note begins over a held one: from it on the two change lines.
    const isHigher = above && (above.pitches[0] ?? 0) < (held.pitches[0] ?? 0);
    if (!isHigher || endOf(lower) > above.at) return lower;
    upper.pop();
    lower.push(above);
    return upper;
  }
  const below = lower.at(-1);
  const isLower = below && below.end > held.at && (below.pitches[0] ?? 0) > (held.pitches[0] ?? 0);
  if (!isLower || endOf(upper) > below.at) return upper;
  lower.pop();
  upper.push(below);
  return lower;
}

function freeLine(held: Held, lines: Held[][]): Held[] {
  const free = lines.find((line) => endOf(line) <= held.at);
  if (free) return free;
  if (lines.length < MOST_LINES) {
    const line: Held[] = [];
    lines.push(line);
    return line;
  }
  // No line is free: the one that ends first is cut.
  const first = lines.reduce((a, b) => (endOf(a) <= endOf(b) ? a : b));
  const last = first.at(-1);
  if (last && last.at < held.at) first[first.length - 1] = { ...last, end: held.at };
  else first.pop();
  return first;
}
