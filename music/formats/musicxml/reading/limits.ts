import { SCORE_LIMITS } from '../../../score/limits.ts';
import { QUARTER } from '../../../score/score.ts';

/**
 * How much is read at most, so that no file, however made, takes long or much memory. The largest of the 24 hymns, of
 * four voices and six verses, has 130,000 characters and 4,000 elements; a song for full orchestra stays below each of
 * these.
 */

/** Characters of the text: twenty times the longest hymn. */
export const MOST_CHARACTERS = 3_000_000;
/** Elements: thirty times the longest hymn; half a second of work. */
export const MOST_ELEMENTS = 120_000;
/** Elements of one measure of one part, or of one piece of the head: a bar of a hymn has some two hundred. */
export const MOST_IN_PIECE = 12_000;
/** Elements inside each other: MusicXML 4.0 itself needs nine. */
export const DEEPEST = 60;
/** Attributes of one element: `print` and `note` have the most in MusicXML 4.0, about thirty. */
export const MOST_ATTRIBUTES = 64;
/** Characters of one text or attribute: a page of words printed below the music has some three thousand. */
export const LONGEST_TEXT = 100_000;
/** Parts, and voices of them: a full orchestra with choir has some forty. */
export const MOST_PARTS = 64;
/** Bars, and whole notes of one: what a score can hold at all. */
export const MOST_BARS = SCORE_LIMITS.bars;
export const LONGEST_NOTE = SCORE_LIMITS.barLength / (4 * QUARTER);

/** Bytes of a compressed file as it comes. */
export const MOST_PACKED = 8_000_000;
/** Bytes of all that is unpacked of it; counted while it is, because what the file says may be a lie. */
export const MOST_UNPACKED = 8_000_000;
/** Files in it: a score, its container, and pictures and sounds that are not touched. */
export const MOST_ENTRIES = 200;
