import { scaleOf, type Key } from '../../pitch/key.ts';
import { pitchClassOf, type NoteName } from '../../pitch/pitch.ts';
import type { Chord } from '../../pitch/chord.ts';

const ROMAN = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'] as const;

/** A triad on a note of a scale: of minor keys the natural one. */
export interface ScaleTriad {
  readonly chord: Chord;
  /** 1–7. */
  readonly degree: number;
  /** `IV`, `ii`, `vii°`. */
  readonly role: string;
  /** Root, third and fifth, 0–11. */
  readonly sound: string;
}

/** A chord that stands in two keys. */
export interface Pivot {
  readonly chord: Chord;
  /** What it is in the key that is left, and in the one that comes: `I` and `IV`. */
  readonly from: ScaleTriad;
  readonly to: ScaleTriad;
}

export function triadsOf(key: Key): ScaleTriad[] {
  const scale = scaleOf(key);
  return scale.map((root, i): ScaleTriad => {
    const at = (step: number): number => pitchClassOf(scale[(i + step) % 7] as NoteName);
    const [third, fifth] = [(at(2) - at(0) + 12) % 12, (at(4) - at(0) + 12) % 12];
    const kind =
      third === 4 ? (fifth === 8 ? 'augmented' : 'major') : fifth === 6 ? 'diminished' : 'minor';
    const roman = ROMAN[i] as string;
    const role = third === 4 ? roman : roman.toLowerCase() + (kind === 'diminished' ? '°' : '');
    return {
      chord: { root, kind, degrees: [], bass: null },
      degree: i + 1,
      role,
      sound: [at(0), at(2), at(4)].join(' '),
    };
  });
}

/**
 * The triads that two keys share, those first that lead on to the dominant of the new key, ii and IV (Open Music Theory,
 * "Modulation": pivots commonly have that function), then vi, then the rest in the order of the old scale; spelled as in
 * the old key.
 */
export function pivotsBetween(from: Key, to: Key): Pivot[] {
  const there = new Map(triadsOf(to).map((triad) => [triad.sound, triad]));
  const shared = triadsOf(from).flatMap((triad): Pivot[] => {
    const other = there.get(triad.sound);
    return other ? [{ chord: triad.chord, from: triad, to: other }] : [];
  });
  const rank = ({ to: { degree } }: Pivot): number => [2, 4, 6].indexOf(degree);
  return shared.sort((a, b) => (rank(a) < 0 ? 3 : rank(a)) - (rank(b) < 0 ? 3 : rank(b)));
}

/** The dominant seventh of a key, major in minor keys too. */
export function dominantOf(key: Key): Chord {
  return { root: scaleOf(key)[4] as NoteName, kind: 'dominant', degrees: [], bass: null };
}

/** The chord of the tonic. */
export function homeOf(key: Key): Chord {
  return (triadsOf(key)[0] as ScaleTriad).chord;
}
