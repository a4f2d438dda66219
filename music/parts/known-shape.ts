import type { PitchName } from '../pitch/pitch.ts';

/** A shape of the right hand that somebody has met. */
export interface KnownShape {
  /** `B♭7/D`. */
  readonly chord: string;
  readonly notes: readonly PitchName[];
  readonly fingers: readonly number[];
  /** In how many songs. */
  readonly songs: number;
}
