import type { Score } from './score.ts';
import { barAt, melodyOf } from './time.ts';

/** The words of one verse as sung, a line of the poem each. `verse` is an index into `score.verses`. */
export function linesOfVerse(score: Score, verse: number): string[] {
  const printed = score.verses[verse]?.lines;
  if (printed && printed.length > 0) return [...printed];
  const lines: string[] = [];
  let line = '';
  let joined = false;
  let last = 0;
  for (const note of melodyOf(score).notes) {
    const syllable = note.syllables?.[verse];
    if (!syllable) continue;
    if (line && beginsLine(score, line, { joined, text: syllable.text, from: last, at: note.at })) {
      lines.push(line);
      line = '';
    }
    line += (line && !joined ? ' ' : '') + syllable.text;
    joined = syllable.hyphen === true;
    last = note.at;
  }
  if (line) lines.push(line);
  return lines;
}

/**
 * Whether a syllable begins a line of the poem. Where the source types lines they are the bars; else a line begins with a
 * capital after a stop: good enough to read by.
 * @param line the words before it, as far as their line goes
 * @param next the syllable; `joined`: it goes on with a word; `from`: where the syllable before it begins
 */
export function beginsLine(
  score: Score,
  line: string,
  next: {
    readonly text: string;
    readonly joined: boolean;
    readonly from: number;
    readonly at: number;
  },
): boolean {
  if (score.untimed) return barAt(score, next.from) !== barAt(score, next.at);
  return !next.joined && /[,;:.!?—]["”’)]?$/.test(line) && /^["“‘(]?\p{Lu}/u.test(next.text);
}

/** Whether a verse has syllables under the notes; else its words can only stand below the music. */
export function isUnderNotes(score: Score, verse: number): boolean {
  return melodyOf(score).notes.some(({ syllables }) => syllables?.[verse]);
}
