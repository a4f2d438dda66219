import { VerseText, type Score } from '#music';

/** The words of one verse as sung, a line of the poem each. `verse` is an index into `score.verses`. */
export const linesOfVerse = VerseText.linesOfVerse;

/** The first words of a song, to know it by; empty where it has none. */
export function firstLine(score: Score): string {
  return score.verses.length > 0 ? (linesOfVerse(score, 0)[0] ?? '') : '';
}
