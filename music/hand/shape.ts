import type { PitchName } from '../pitch/pitch.ts';

export type Hand = 'right' | 'left';

/** What one hand holds: pitches low to high, and the finger on each (1 thumb … 5 little finger). */
export interface Shape {
  readonly notes: readonly PitchName[];
  readonly fingers: readonly number[];
}

const BLACK = new Set([1, 3, 6, 8, 10]);

/** Whether a key, given as semitones with C4 = 60, is a black one. */
export function isBlackKey(midi: number): boolean {
  return BLACK.has(((midi % 12) + 12) % 12);
}
