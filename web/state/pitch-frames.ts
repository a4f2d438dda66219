import { PitchDetector } from 'pitchy';
import { midiOfHz, type PitchFrame } from './sung-notes.ts';

/** Samples that are looked at together: at 44.1 kHz 46 ms, nearly three swings of the lowest note that is heard. */
export const WINDOW = 2048;
/** Between one look and the next, in ms. */
export const HOP = 20;
/** How much the sound repeats itself, 0–1 (McLeod and Wyvill 2005); below it is noise, breath or a consonant. */
const CLEAR = 0.9;
/** Hz: from below the lowest bass to above the highest soprano. */
const LOWEST = 60;
const HIGHEST = 1200;
/** Softer than this is the room. */
const SOFTEST_DB = -46;

/** Reads pitches out of a sound, window by window, by the McLeod pitch method. */
export class PitchReader {
  readonly #detector = PitchDetector.forFloat32Array(WINDOW);

  constructor() {
    this.#detector.minVolumeDecibels = SOFTEST_DB;
  }

  /** @param samples as many as `WINDOW`, -1 to 1 */
  read(samples: Float32Array, sampleRate: number, seconds: number): PitchFrame {
    const [hz, clarity] = this.#detector.findPitch(samples, sampleRate);
    const isNote = clarity >= CLEAR && hz >= LOWEST && hz <= HIGHEST;
    return { seconds, midi: isNote ? midiOfHz(hz) : null };
  }
}
