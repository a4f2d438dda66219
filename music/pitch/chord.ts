import type { NoteName } from './pitch.ts';

/** The 33 values of MusicXML 4.0 `kind-value` (W3C schema musicxml.xsd). */
export const CHORD_KINDS = [
  'major',
  'minor',
  'augmented',
  'diminished',
  'dominant',
  'major-seventh',
  'minor-seventh',
  'diminished-seventh',
  'augmented-seventh',
  'half-diminished',
  'major-minor',
  'major-sixth',
  'minor-sixth',
  'dominant-ninth',
  'major-ninth',
  'minor-ninth',
  'dominant-11th',
  'major-11th',
  'minor-11th',
  'dominant-13th',
  'major-13th',
  'minor-13th',
  'suspended-second',
  'suspended-fourth',
  'Neapolitan',
  'Italian',
  'French',
  'German',
  'pedal',
  'power',
  'Tristan',
  'other',
  'none',
] as const;
export type ChordKind = (typeof CHORD_KINDS)[number];

export interface ChordDegree {
  readonly type: 'add' | 'alter' | 'subtract';
  /** 1–13, counted from the root of the chord. */
  readonly value: number;
  /**
   * Semitones, as in MusicXML 4.0: of an added degree against the major or perfect one (a seventh counts from the
   * minor one); of an altered degree against the one that the kind has; of a subtracted degree 0.
   */
  readonly alter: number;
}

/** What a chord symbol says. `Am7/G` is `{ root: 'A', kind: 'minor-seventh', degrees: [], bass: 'G' }`. */
export interface Chord {
  readonly root: NoteName;
  readonly kind: ChordKind;
  readonly degrees: readonly ChordDegree[];
  readonly bass: NoteName | null;
}
