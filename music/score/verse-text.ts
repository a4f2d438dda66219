import type { Score } from './score.ts';
import { melodyOf } from './time.ts';

/** The words of one verse as sung, a line of the poem each. `verse` is an index into `score.verses`. */
export function linesOfVerse(score: Score, verse: number): string[] {
  const printed = score.verses[verse]?.lines;
  if (printed && printed.length > 0) return [...printed];
  const lines: string[] = [];
  let line = '';
  let joined = false;
  for (const note of melodyOf(score).notes) {
    const syllable = note.syllables?.[verse];
    if (!syllable) continue;
    // A line of a poem starts with a capital after a stop; good enough to read by.
    if (!joined && /[,;:.!?—]["”’)]?$/.test(line) && /^["“‘(]?\p{Lu}/u.test(syllable.text)) {
      lines.push(line);
      line = '';
    }
    line += (line && !joined ? ' ' : '') + syllable.text;
    joined = syllable.hyphen === true;
  }
  if (line) lines.push(line);
  return lines;
}

/** Whether a verse has syllables under the notes; else its words can only stand below the music. */
export function isUnderNotes(score: Score, verse: number): boolean {
  return melodyOf(score).notes.some(({ syllables }) => syllables?.[verse]);
}
