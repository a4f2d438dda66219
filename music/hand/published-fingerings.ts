import type { Hand } from './shape.ts';

/** Which note of the chord lies lowest: 0 the root, 1 the third, 2 the fifth. */
export type Inversion = 0 | 1 | 2;
type Fingers = readonly number[];
type ThreeForms = readonly [Fingers, Fingers, Fingers];

/**
 * Closed triads, low to high, the same in every key: only the right hand's first inversion and the
 * left hand's second use finger 2. Source: triad charts of piano method pages that agree with each
 * other (musicfanfare.com; pianoandvoicewithbrenda.com; a chart published as scribd 487247979).
 */
const TRIAD: Readonly<Record<Hand, ThreeForms>> = {
  right: [
    [1, 3, 5],
    [1, 2, 5],
    [1, 3, 5],
  ],
  left: [
    [5, 3, 1],
    [5, 3, 1],
    [5, 2, 1],
  ],
};

export function fingersOfTriad(inversion: Inversion, hand: Hand): Fingers {
  return TRIAD[hand][inversion];
}

/**
 * Written as in the book: fingers low to high of the form on the root, on the third, on the fifth.
 */
function forms(text: string): ThreeForms {
  const [root, first, second] = text.split(' ').map((each) => [...each].map(Number));
  if (!root || !first || !second) throw new RangeError(`not three forms: ${text}`);
  return [root, first, second];
}

const RIGHT_PLAIN = forms('1235 1245 1245');
const RIGHT_LOW_LAST = forms('1235 1245 1235');
const LEFT_PLAIN = forms('5421 5421 5321');
const LEFT_BLACK_THIRD = forms('5321 5421 5321');

/** Roots as semitones above C. */
const MAJOR_LEFT_PLAIN = new Set([0, 7, 5]);
const MAJOR_F = 5;
const MINOR_RIGHT_PLAIN = new Set([9, 2, 4]);
const MINOR_B = 11;

/**
 * A triad with its lowest note doubled at the octave: four notes, low to high. Source: the broken
 * chords of Beringer & Dunhill 1900, "Manual of Scales, Arpeggios and Broken Chords" (all 24 keys,
 * both hands). The book's alternatives (2124 for 1245) put a finger down twice: they can be broken,
 * not held. `root` in semitones above C; enharmonic keys lie on the same keys of the piano and
 * share a row.
 */
export function fingersOfDoubledTriad(
  root: number,
  quality: 'major' | 'minor',
  inversion: Inversion,
  hand: Hand,
): Fingers {
  if (hand === 'left') {
    const plain = quality === 'minor' || MAJOR_LEFT_PLAIN.has(root);
    return (plain ? LEFT_PLAIN : LEFT_BLACK_THIRD)[inversion];
  }
  if (quality === 'major') return (root === MAJOR_F ? RIGHT_LOW_LAST : RIGHT_PLAIN)[inversion];
  if (root === MINOR_B) return forms('1235 1345 1235')[inversion];
  return (MINOR_RIGHT_PLAIN.has(root) ? RIGHT_PLAIN : RIGHT_LOW_LAST)[inversion];
}
