import type { Key } from '../pitch/key.ts';

/** A song that is read in one key and sounds in another: by the transpose button of a keyboard, or by a capo. */
export interface PlayedKey {
  readonly by: 'transpose button' | 'capo';
  /** What stands on the page and under the fingers. */
  readonly plays: Key;
  readonly sounds: Key;
  /** Button: semitones to set, −6 to 6. Capo: the fret. Never 0. */
  readonly amount: number;
  /** `play in C, keyboard set to +2: it sounds in D`; `capo 2: shapes of G, it sounds in A`. */
  readonly words: string;
  /** What to put back after the song: `Set the keyboard back to 0 after this song.` */
  readonly reminder: string;
}
