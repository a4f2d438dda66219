import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord, ChordKind } from '../../pitch/chord.ts';
import type { NoteName } from '../../pitch/pitch.ts';

/** A chord that may be meant, its tones spelled from the root up: root, third (or fourth), fifth, seventh. */
export interface Candidate {
  readonly chord: Chord;
  readonly tones: readonly NoteName[];
  /** Tones (indexes) without which it is not this chord at all: they must sound, at once. */
  readonly required: readonly number[];
}

/**
 * What a hymn's four voices make (common practice: triads, sevenths, a rare suspended fourth), plainest first, with
 * the tones that must sound, at one moment. A third or a fifth of a plain triad may be implied.
 */
const KINDS: readonly (readonly [ChordKind, readonly number[]])[] = [
  ['major', [0]],
  ['minor', [0]],
  ['dominant', [0, 3]],
  ['minor-seventh', [0, 1, 3]],
  ['diminished', [0, 1, 2]],
  ['half-diminished', [0, 1, 2, 3]],
  ['major-seventh', [0, 1, 3]],
  ['diminished-seventh', [0, 1, 2, 3]],
  ['suspended-fourth', [0, 1, 2]],
  ['augmented', [0, 1, 2]],
];

export function candidateOf(chord: Chord, required: readonly number[] = []): Candidate {
  return { chord, tones: tonesOf(chord), required };
}

const PLAIN: Chord['degrees'] = [];

/** Every chord on every note name that sounds, in the order in which ties are broken. */
export function candidatesOf(roots: readonly NoteName[]): Candidate[] {
  return KINDS.flatMap(([kind, required]) =>
    roots.map((root) => candidateOf({ root, kind, degrees: PLAIN, bass: null }, required)),
  );
}

/** The same root, kind and degrees, whatever the bass. */
export function sameHarmony(a: Chord, b: Chord): boolean {
  return (
    a.root === b.root &&
    a.kind === b.kind &&
    (a.degrees === b.degrees || JSON.stringify(a.degrees) === JSON.stringify(b.degrees))
  );
}
