import type { Shape } from '../../hand/shape.ts';
import type { Note, Ticks } from '../../score/score.ts';
import type { Problem } from '../../result.ts';

/** What one hand plays in a whole song. */
export interface HandLine {
  /** Bar by bar, without gaps from the first bar to the last; fingers stand where the hand changes or comes in again. */
  readonly notes: readonly Note[];
  /** What the hand holds under each chord of the song, in the order of the chords, before any texture. */
  readonly held: readonly Shape[];
  /** What was done otherwise than the rung has it, and why, each with its bars: said on the sheet. */
  readonly remarks: readonly HandRemark[];
  /** What could not be had. */
  readonly warnings: readonly Problem[];
}

export interface HandRemark {
  readonly at: Ticks;
  /** `bars 5 to 8: the bass has the low octave, the left hand plays above it`. */
  readonly words: string;
}
