import { SCORE_LIMITS } from '../score/limits.ts';
import type { Score } from '../score/score.ts';

/** What a song is called that has no title and comes from no file. */
export const WITHOUT_TITLE = 'Without a title';

/** Whether a song says what it is called. */
export const hasTitle = ({ facts }: Score): boolean => facts.title.trim() !== '';

/**
 * The song under a name: its own title, or what its file is called.
 * @param file the name of the file, also with its folders; empty: it comes from none
 */
export function titled(score: Score, file: string): Score {
  if (hasTitle(score)) return score;
  const name = file
    .slice(file.lastIndexOf('/') + 1)
    .replace(/\.[^.]*$/, '')
    .replace(/[_\s\p{Cc}]+/gu, ' ')
    .trim()
    .slice(0, SCORE_LIMITS.line);
  return { ...score, facts: { ...score.facts, title: name || WITHOUT_TITLE } };
}
