import { success, type Result } from '../result.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { temposOf, withTempos } from '../score/tempos.ts';
import type { OneEdit } from './edit.ts';
import { sayBar } from './place-words.ts';
import { isWhole, missingBar, refused, withoutTime } from './refusal.ts';

/** Slower or faster than any metronome (common practice: 40 to 208) is a slip. */
const [SLOWEST, FASTEST] = [10, 500];

/** A tempo at the start or from a bar on; where it is the one that is in force already, nothing changes there any more. */
function tempo(
  score: Score,
  { tempo: given, bar = 0 }: Extract<OneEdit, { readonly do: 'tempo' }>,
): Result<Score> {
  const missing = missingBar(score, bar) ?? (bar > 0 ? withoutTime(score) : null);
  if (missing) return missing;
  const here = score.bars[bar];
  const at = here?.at ?? 0;
  const tempos = temposOf(score);
  const others = tempos.filter((each) => each.at !== at);
  if (given === null && at > 0) {
    if (others.length < tempos.length) return success(withTempos(score, others));
    return refused(`The tempo does not change at ${here ? sayBar(score, here) : 'that bar'}.`);
  }
  if (given !== null) {
    const { beat, perMinute } = given;
    if (!isWhole(beat, 1, 8 * QUARTER)) return refused('That is no beat to count in.');
    if (!(perMinute >= SLOWEST && perMinute <= FASTEST)) {
      return refused(`A tempo lies between ${SLOWEST} and ${FASTEST} beats a minute.`);
    }
  }
  const own = given && { beat: given.beat, perMinute: given.perMinute };
  const list = [...others, { at, tempo: own }].sort((a, b) => a.at - b.at);
  return success(withTempos(score, list));
}

export const TEMPOS = { tempo };
