import { sayNote } from '../pitch/key.ts';
import { midiOf, noteOf, requirePitch, type PitchName } from '../pitch/pitch.ts';
import { sayDistance, sayPlace } from './note-words.ts';
import { spanOf } from './spans.ts';

/**
 * A five-finger position spans a fifth: little finger to thumb, a finger to each neighbouring note
 * (common practice).
 */
export const POSITION_SPAN = 7;

/** The left hand at one place, for some chords in a row. */
export interface HandPosition {
  /** The first and last chord played here, counted from 0. */
  readonly from: number;
  readonly to: number;
  /** Under the little finger. */
  readonly lowest: PitchName;
  /** The keys played here, low to high, each under its one finger. */
  readonly keys: readonly { readonly note: PitchName; readonly finger: number }[];
}

/**
 * Notes in a row cut into the fewest positions: the hand stays as long as what it has played spans
 * no more than a fifth.
 */
export function positionsOf(notes: readonly PitchName[]): HandPosition[] {
  const positions: HandPosition[] = [];
  let from = 0;
  for (let next = 1; next <= notes.length; next++) {
    const keys = notes.slice(from, next + 1).map(midiOf);
    if (next < notes.length && Math.max(...keys) - Math.min(...keys) <= POSITION_SPAN) continue;
    positions.push(positionOf(notes.slice(from, next), from));
    from = next;
  }
  return positions;
}

function positionOf(notes: readonly PitchName[], from: number): HandPosition {
  const keys = new Map<number, PitchName>();
  for (const note of notes) if (!keys.has(midiOf(note))) keys.set(midiOf(note), note);
  const played = [...keys.values()].sort((a, b) => midiOf(a) - midiOf(b));
  const lowest = played[0] as PitchName;
  const byLetter = played.map((note) => fingerByLetter(lowest, note));
  const usable = byLetter.every((finger, i) => i === 0 || finger <= (byLetter[i - 1] ?? 5));
  return {
    from,
    to: from + notes.length - 1,
    lowest,
    keys: played.map((note, i) => ({
      note,
      finger: usable ? (byLetter[i] ?? 5) : fingerByKey(midiOf(note) - midiOf(lowest)),
    })),
  };
}

/**
 * A finger to each letter, as long as it stands within its comfortable span of the little finger
 * (Parncutt et al. 1997).
 */
function fingerByLetter(lowest: PitchName, note: PitchName): number {
  const letters = requirePitch(note).step - requirePitch(lowest).step;
  const keys = midiOf(note) - midiOf(lowest);
  if (keys === 0) return 5;
  const finger = 5 - letters;
  if (finger < 1 || finger > 4) return fingerByKey(keys);
  const span = spanOf(finger, 5);
  return keys >= span.minComfortable && keys <= span.maxComfortable ? finger : fingerByKey(keys);
}

/** Where the letters do not help: the five fingers over the eight keys of a fifth. */
const BY_KEY = [5, 4, 4, 3, 3, 2, 2, 1] as const;

function fingerByKey(keys: number): number {
  return BY_KEY[keys] ?? 1;
}

export function fingerIn(position: HandPosition, note: PitchName): number {
  const found = position.keys.find((key) => midiOf(key.note) === midiOf(note));
  if (!found) throw new RangeError(`${note} is not in the position on ${position.lowest}`);
  return found.finger;
}

/**
 * `little finger on the C below middle C: C 5, D 4, E 3, G thumb`; after a shift: `the hand shifts
 * up a third: …`.
 */
export function sayPosition(position: HandPosition, before: HandPosition | undefined): string {
  const keys = position.keys.map(
    ({ note, finger }) => `${sayNote(noteOf(note))} ${finger === 1 ? 'thumb' : finger}`,
  );
  const place = `little finger on ${sayPlace(position.lowest)}: ${keys.join(', ')}`;
  if (!before) return place;
  const way = midiOf(position.lowest) - midiOf(before.lowest);
  if (way === 0) return place;
  const distance = sayDistance(before.lowest, position.lowest);
  return `the hand shifts ${way > 0 ? 'up' : 'down'} ${distance}, ${place}`;
}
