import { failure, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import type { Edit } from './edit.ts';

export type * from './edit.ts';

/** A song with one thing done to it; the song itself stays as it is. */
export function apply(score: Score, edit: Edit): Result<Score> {
  void score;
  return failure({ code: 'not-possible', message: `That cannot be done yet: ${edit.do}.` });
}
