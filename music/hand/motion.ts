import { midiOf, type PitchName } from '../pitch/pitch.ts';

/**
 * How notes go over into notes: the sum of their ways in semitones, and who goes where (indexes,
 * low to high).
 */
export interface Motion {
  readonly total: number;
  readonly pairs: readonly (readonly [from: number, to: number])[];
}

/**
 * The motion from one shape to the next, notes low to high. Shapes of equal size are paired bottom
 * to bottom; of unequal size every note of both is used and the total is least (`withDoubling`).
 * Size by the "taxicab" sum of semitones: Tymoczko 2006, "The Geometry of Musical Chords", Science
 * 313, 72–74.
 */
export function between(from: readonly PitchName[], to: readonly PitchName[]): Motion {
  const here = from.map(midiOf);
  const there = to.map(midiOf);
  return here.length === there.length ? bottomToBottom(here, there) : withDoubling(here, there);
}

/**
 * Strictly one to one and without crossing; `from` and `to` in semitones, ascending and equally
 * many.
 */
export function bottomToBottom(from: readonly number[], to: readonly number[]): Motion {
  if (from.length !== to.length) throw new RangeError('bottom to bottom needs equally many notes');
  return {
    total: from.reduce((sum, note, i) => sum + Math.abs(note - (to[i] as number)), 0),
    pairs: from.map((_, i) => [i, i]),
  };
}

/**
 * The least motion that uses every note of both, where notes may be doubled; `from` and `to` in
 * semitones, ascending, not empty. Dynamic programming of the supplement to Tymoczko 2006 (entry =
 * distance + least of the three neighbours), on real pitches, so that no chord is rotated. Of equal
 * ways the straight pairing goes first.
 */
export function withDoubling(from: readonly number[], to: readonly number[]): Motion {
  const width = to.length;
  const least = new Float64Array(from.length * width);
  const at = (i: number, j: number) =>
    i < 0 || j < 0 ? Infinity : (least[i * width + j] as number);
  for (let i = 0; i < from.length; i++)
    for (let j = 0; j < width; j++) {
      const before = i + j === 0 ? 0 : Math.min(at(i - 1, j - 1), at(i - 1, j), at(i, j - 1));
      least[i * width + j] = before + Math.abs((from[i] as number) - (to[j] as number));
    }
  const pairs: [number, number][] = [];
  let i = from.length - 1;
  let j = width - 1;
  pairs.push([i, j]);
  while (i + j > 0) {
    const before = Math.min(at(i - 1, j - 1), at(i - 1, j), at(i, j - 1));
    if (at(i - 1, j - 1) === before) {
      i--;
      j--;
    } else if (at(i - 1, j) === before) i--;
    else j--;
    pairs.push([i, j]);
  }
  return { total: at(from.length - 1, width - 1), pairs: pairs.reverse() };
}

/**
 * The total of `between` alone, on keys laid out flat (`from[at]` … ascending), for computing many:
 * no allocation.
 */
export function motionOfKeys(
  from: Int16Array,
  at: number,
  size: number,
  to: Int16Array,
  there: number,
  width: number,
): number {
  if (size !== width) return doublingOfKeys(from, at, size, to, there, width);
  let total = 0;
  for (let i = 0; i < size; i++)
    total += Math.abs((from[at + i] as number) - (to[there + i] as number));
  return total;
}

let row = new Int32Array(8);

function doublingOfKeys(
  from: Int16Array,
  at: number,
  size: number,
  to: Int16Array,
  there: number,
  width: number,
): number {
  if (row.length < width) row = new Int32Array(width);
  for (let i = 0; i < size; i++) {
    const key = from[at + i] as number;
    let diagonal = 0;
    for (let j = 0; j < width; j++) {
      const distance = Math.abs(key - (to[there + j] as number));
      const above = row[j] as number;
      const left = j > 0 ? (row[j - 1] as number) : 0;
      let least: number;
      if (i === 0) least = left;
      else if (j === 0) least = above;
      else least = Math.min(above, left, diagonal);
      diagonal = above;
      row[j] = least + distance;
    }
  }
  return row[width - 1] as number;
}
