import { ENGLISH, type Says } from '../pitch/says.ts';
import { failure, success, type Failure, type Result } from '../result.ts';
import type { Density } from '../score/reduction.ts';
import type { Score, Ticks } from '../score/score.ts';
import { endOf } from '../score/time.ts';
import { arranged } from './arranged.ts';
import type { Arrangement } from './arrangement.ts';
import { countOf, type PartCount } from './count-words.ts';
import { introductionOf, withIntroduction, type Introduction } from './introduction.ts';

/** A song as all parts of it begin: arranged, with its introduction before it. */
export interface LaidOut {
  /** Without the introduction. */
  readonly song: Score;
  readonly introduction: Introduction;
  /** With it, written out before bar 1. */
  readonly whole: Score;
  /** How long it is. */
  readonly length: Ticks;
  readonly count: PartCount;
}

/** Whether a song has its words alone: nothing in it has a key to be read in, and nothing can be played from it. */
export const isWordsOnly = ({ untimed, chords }: Pick<Score, 'untimed' | 'chords'>): boolean =>
  untimed === true && chords.length === 0;

/** What a part of words without time says instead. */
export const noRhythm = (score: Score): Failure =>
  failure({
    code: 'no-rhythm',
    message: isWordsOnly(score)
      ? `“${score.facts.title}” has words alone, without chords and without rhythm, so there is nothing to write as notes: follow the words.`
      : `“${score.facts.title}” has words and chords but no rhythm, so it cannot be written as notes: play it from the words.`,
  });

/** Fails where there is nothing to write out as notes: no bars (`no-music`), or words without time (`no-rhythm`). */
export function layOut(
  score: Score,
  arrangement: Arrangement,
  says: Says = ENGLISH,
  density: Density = arrangement.density,
): Result<LaidOut> {
  const { title } = score.facts;
  if (score.bars.length === 0) {
    return failure({ code: 'no-music', message: `“${title}” has no bars to play.` });
  }
  if (score.untimed) return noRhythm(score);
  const song = arranged(score, arrangement, density);
  const introduction = introductionOf(song);
  const whole = withIntroduction(song, introduction);
  const length = endOf(whole) - endOf(song);
  return success({ song, introduction, whole, length, count: countOf(song, whole, length, says) });
}
