/**
 * The right hand's best path by trying everything: an oracle that shares nothing with the planner.
 * It has its own chord tables, takes every subset of the register's keys, and walks every sequence
 * of shapes.
 */

/**
 * Semitones above the root. From the names themselves, as in any book of harmony (common practice).
 */
export const KINDS: Readonly<Record<string, readonly number[]>> = {
  '': [0, 4, 7],
  m: [0, 3, 7],
  dim: [0, 3, 6],
  aug: [0, 4, 8],
  sus4: [0, 5, 7],
  '5': [0, 7],
  '6': [0, 4, 7, 9],
  '7': [0, 4, 7, 10],
  maj7: [0, 4, 7, 11],
  m7: [0, 3, 7, 10],
  m7b5: [0, 3, 6, 10],
  dim7: [0, 3, 6, 9],
};
export const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** A chord by its root (0–11) and kind. */
export interface BruteChord {
  readonly root: number;
  readonly kind: string;
}

export interface Register {
  readonly low: number;
  readonly high: number;
  readonly reach: number;
}

export function symbolOf({ root, kind }: BruteChord): string {
  return `${ROOTS[root] ?? ''}${kind}`;
}

const shapesKnown = new Map<string, number[][]>();

/** Every set of keys in the register that has each tone once and is no wider than the reach. */
export function everyShape(chord: BruteChord, register: Register): number[][] {
  const wanted = (KINDS[chord.kind] ?? []).map((tone) => (chord.root + tone) % 12).sort();
  const name = JSON.stringify([[...wanted].sort(), register]);
  const known = shapesKnown.get(name);
  if (known) return known;
  const asWanted = [...wanted].sort().join();
  const shapes = everySet(register, wanted.length).filter(
    (set) =>
      Math.max(...set) - Math.min(...set) <= register.reach &&
      set
        .map((key) => key % 12)
        .sort()
        .join() === asWanted,
  );
  shapesKnown.set(name, shapes);
  return shapes;
}

const setsKnown = new Map<string, number[][]>();

/** Every set of so many keys of the register. */
function everySet({ low, high }: Register, size: number): number[][] {
  const name = `${low} ${high} ${size}`;
  let sets = setsKnown.get(name);
  if (!sets) {
    const keys = Array.from({ length: high - low + 1 }, (_, i) => low + i);
    setsKnown.set(name, (sets = subsets(keys, size)));
  }
  return sets;
}

function subsets(keys: readonly number[], size: number): number[][] {
  if (size === 0) return [[]];
  return keys.flatMap((key, i) =>
    subsets(keys.slice(i + 1), size - 1).map((rest) => [key, ...rest]),
  );
}

/**
 * Equal sizes: bottom to bottom. Unequal: the cheapest set of pairs that leaves no note out, found
 * by sending every note of the first to every note of the second in turn, the notes left over to
 * their nearest.
 */
export function motionBetween(from: readonly number[], to: readonly number[]): number {
  if (from.length === to.length)
    return from.reduce((sum, key, i) => sum + Math.abs(key - (to[i] ?? NaN)), 0);
  const nearest = to.map((key) => Math.min(...from.map((each) => Math.abs(each - key))));
  let least = Infinity;
  const send = (i: number, used: number, cost: number): void => {
    const key = from[i];
    if (key !== undefined) {
      to.forEach((each, j) => {
        send(i + 1, used | (1 << j), cost + Math.abs(key - each));
      });
      return;
    }
    const leftOver = nearest.reduce((sum, way, j) => (used & (1 << j) ? sum : sum + way), 0);
    least = Math.min(least, cost + leftOver);
  };
  send(0, 0, 0);
  return least;
}

const motionsKnown = new Map<number[][], Map<number[][], number[][]>>();

function motions(from: number[][], to: number[][]): number[][] {
  let row = motionsKnown.get(from);
  if (!row) motionsKnown.set(from, (row = new Map()));
  let table = row.get(to);
  if (!table) row.set(to, (table = from.map((a) => to.map((b) => motionBetween(a, b)))));
  return table;
}

/** The least total motion over every sequence of shapes; null where a chord has none. */
export function leastMotion(
  chords: readonly BruteChord[],
  register: Register,
  loop = false,
): number | null {
  const shapes = chords.map((chord) => everyShape(chord, register));
  if (shapes.some((each) => each.length === 0)) return null;
  const tables = shapes.map((from, i) => motions(from, shapes[(i + 1) % shapes.length] ?? []));
  const last = shapes.length - 1;
  let least = Infinity;
  const walk = (place: number, first: number, here: number, cost: number): void => {
    if (place === last) {
      const home = loop ? (tables[last]?.[here]?.[first] ?? NaN) : 0;
      if (cost + home < least) least = cost + home;
      return;
    }
    const row = tables[place]?.[here] ?? [];
    for (let next = 0; next < row.length; next++)
      walk(place + 1, first, next, cost + (row[next] ?? NaN));
  };
  (shapes[0] ?? []).forEach((_, first) => walk(0, first, first, 0));
  return least;
}

/** Every sequence of shapes, for short ones. */
export function everyPath(chords: readonly BruteChord[], register: Register): number[][][] {
  return chords.reduce<number[][][]>(
    (paths, chord) =>
      paths.flatMap((path) => everyShape(chord, register).map((shape) => [...path, shape])),
    [[]],
  );
}
