import { failure, type Failure } from '../result.ts';
import { parsePitch, type NoteName, type PitchName } from '../pitch/pitch.ts';
import type { Bounds } from './candidates.ts';

export interface RightHandOptions {
  /** The last chord goes back to the first. Default: no. */
  readonly loop?: boolean;
  /**
   * `nearest` (default): least motion. `settled`: one shape per chord through the whole song, and
   * least motion with that. `tune`: first the tune on top, then fingers kept, then motion.
   */
  readonly goal?: 'nearest' | 'settled' | 'tune';
  /** The lowest and highest key, both included. Default G3 to G5. */
  readonly register?: { readonly low: PitchName; readonly high: PitchName };
  /** The widest shape, in semitones. Default an octave, 12. */
  readonly reach?: number;
  /**
   * The most notes of a shape, 1–5, for all chords or for each. Default 4; 3 makes a seventh chord of root, third and
   * seventh.
   */
  readonly most?: number | readonly number[];
  /**
   * For goal `tune`: what is sung as each chord begins, null where it does not matter. A pitch
   * (`D5`) asks for that key on top; where the chord has no such shape within bounds, for the same
   * note in any octave. A note (`D`) asks for that at once.
   */
  readonly tune?: readonly (PitchName | NoteName | null)[];
  /** The notes of the first shape, where the hand is already there. */
  readonly start?: readonly PitchName[];
}

/**
 * Where a right hand plays that leaves room for the left: from the G below middle C, two octaves
 * (ours).
 */
export const REGISTER = { low: 'G3', high: 'G5' } as const;
/** An octave: what an adult hand takes without a stretch (common practice). */
export const REACH = 12;

export function readBounds(options: RightHandOptions): Bounds | Failure {
  const { low, high } = options.register ?? REGISTER;
  const [lowest, highest] = [parsePitch(low), parsePitch(high)];
  if (!lowest || !highest)
    return failure({
      code: 'register-not-read',
      message: `The register must go from a pitch to a pitch, such as G3 to G5, not ${low} to ${high}.`,
    });
  const reach = options.reach ?? REACH;
  if (!(reach >= 0))
    return failure({ code: 'reach-not-read', message: `A reach of ${reach} semitones is none.` });
  return { low: lowest.midi, high: highest.midi, reach };
}
