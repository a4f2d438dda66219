/**
 * How far two fingers of one hand stand apart, in semitones, right hand ascending; the left hand
 * mirrors it. Source: Parncutt, Sloboda, Clarke, Raekallio & Desain 1997, "An Ergonomic Model of
 * Keyboard Fingering for Melodic Fragments", Music Perception 14(4), table of spans. `maxRelaxed`
 * of 1–5 is 10 in one copy of the table and 11 in another; 10 is the careful one.
 */
export interface Span {
  readonly minPractical: number;
  readonly minComfortable: number;
  readonly minRelaxed: number;
  readonly maxRelaxed: number;
  readonly maxComfortable: number;
  readonly maxPractical: number;
}

function span(row: readonly [number, number, number, number, number, number]): Span {
  return {
    minPractical: row[0],
    minComfortable: row[1],
    minRelaxed: row[2],
    maxRelaxed: row[3],
    maxComfortable: row[4],
    maxPractical: row[5],
  };
}

const SPANS: Readonly<Record<string, Span>> = {
  '12': span([-5, -3, 1, 5, 8, 10]),
  '13': span([-4, -2, 3, 7, 10, 12]),
  '14': span([-3, -1, 5, 9, 12, 14]),
  '15': span([-1, 1, 7, 10, 13, 15]),
  '23': span([1, 1, 1, 2, 3, 5]),
  '24': span([1, 1, 3, 4, 5, 7]),
  '25': span([2, 2, 5, 6, 8, 10]),
  '34': span([1, 1, 1, 2, 2, 4]),
  '35': span([1, 1, 3, 4, 5, 7]),
  '45': span([1, 1, 1, 2, 3, 5]),
};

/** By tens and ones, either finger first: asked for hundreds of thousands of times in a part. */
const BY_FINGERS = new Map(
  Object.entries(SPANS).flatMap(([pair, each]) => [
    [Number(pair), each],
    [Number([...pair].reverse().join('')), each],
  ]),
);

/** The span of two different fingers, whichever is named first; throws on anything else. */
export function spanOf(one: number, other: number): Span {
  const found = BY_FINGERS.get(10 * one + other);
  if (!found) throw new RangeError(`no two fingers: ${one} and ${other}`);
  return found;
}

/**
 * What it costs to hold two neighbouring notes of a shape, by three of the twelve rules of the same
 * paper: stretch (2 a semitone beyond comfortable), small span and large span (a semitone outside
 * relaxed: 1 with the thumb, else 2). The paper gives them for notes in turn; that they are used
 * here for notes held together is our own reading, as Al Kasimi, Nichols & Raphael (ISMIR 2007)
 * have a cost inside a chord beside the cost between chords.
 */
export function holdingCost(one: number, other: number, semitones: number): number {
  const { minComfortable, minRelaxed, maxRelaxed, maxComfortable } = spanOf(one, other);
  const weight = one === 1 || other === 1 ? 1 : 2;
  const stretch = Math.max(0, semitones - maxComfortable, minComfortable - semitones);
  const outside = Math.max(0, semitones - maxRelaxed, minRelaxed - semitones);
  return 2 * stretch + weight * outside;
}
