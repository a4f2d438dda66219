/**
 * How much is read at most, so that no file, however made, takes long or much memory. The largest of the 24 hymns of
 * four voices and up to eight verses has some 300,000 characters and 11,000 elements; a full orchestral score of a
 * song stays below each of these.
 */

/** Characters of the text: a dozen times the longest hymn. */
export const MOST_CHARACTERS = 4_000_000;
/** Elements: some thirty times the longest hymn; half a second of work. */
export const MOST_ELEMENTS = 300_000;
/** Elements inside each other: MusicXML 4.0 itself needs nine. */
export const DEEPEST = 60;
/** Attributes of one element: `print` and `note` have the most in MusicXML 4.0, about thirty. */
export const MOST_ATTRIBUTES = 64;
/** Characters of one text or attribute: a page of words printed below the music has some three thousand. */
export const LONGEST_TEXT = 100_000;
/** Parts, and voices of them: a full orchestra with choir has some forty. */
export const MOST_PARTS = 64;
/** Bars: an hour at two bars in three seconds. */
export const MOST_BARS = 2_400;
/** Whole notes of one note: a maxima has eight. */
export const LONGEST_NOTE = 64;

/** Bytes of a compressed file as it comes. */
export const MOST_PACKED = 8_000_000;
/** Bytes of all that is unpacked of it; counted while it is, because what the file says may be a lie. */
export const MOST_UNPACKED = 12_000_000;
/** Files in it: a score, its container, and pictures and sounds that are not touched. */
export const MOST_ENTRIES = 200;
