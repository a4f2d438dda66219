import { Time, type Score } from '#music';

/** The words of one verse as sung, a line of the poem each. `verse` is an index into `score.verses`. */
export function linesOfVerse(score: Score, verse: number): string[] {
  const printed = score.verses[verse]?.lines;
  if (printed && printed.length > 0) return [...printed];
  const lines: string[] = [];
  let line = '';
  let joined = false;
  for (const note of Time.melodyOf(score).notes) {
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

/** The first words of a song, to know it by; empty where it has none. */
export function firstLine(score: Score): string {
  return score.verses.length > 0 ? (linesOfVerse(score, 0)[0] ?? '') : '';
}
