import { ofHands, type PlanDifficulty } from '../../hand/difficulty.ts';
import { say as sayChord } from '../../pitch/chord-symbol.ts';
import type { Key } from '../../pitch/key.ts';
import type { Failure } from '../../result.ts';
import type { Score } from '../../score/score.ts';
import { feltBeat, meterAt, tempoAt } from '../../score/time.ts';
import type { Arrangement, Player } from '../arrangement.ts';
import { arrangedInKeys } from '../arranged.ts';
import { changesOf } from '../changes.ts';
import { planHands } from '../hands-plan.ts';
import { noRhythm } from '../laid-out.ts';
import { introductionOf, withIntroduction } from '../form/introduction.ts';

/**
 * What the part of a player at the keys asks of the hands, key by key: weighed on the very shapes that the sheet prints,
 * the introduction among them. Fails as the part would: no chords, no shape within reach.
 * @param score in its own key
 */
export function handCosts(
  score: Score,
  arrangement: Omit<Arrangement, 'key'>,
  player: Pick<Player, 'name' | 'reach'>,
): (key: Key) => PlanDifficulty | Failure {
  const songIn = arrangedInKeys(score, arrangement);
  return (key) => {
    if (score.untimed) return noRhythm(score);
    const song = songIn(key);
    const whole = withIntroduction(song, introductionOf(song));
    const plan = planHands(whole, player);
    if (!plan.ok) return plan;
    const { held, positions } = plan;
    const changes = changesOf(whole, plan);
    const tempos = changes.map(({ before }) => tempoAt(whole, before.from));
    const beats = changes.map(
      ({ before, time }, i) => time / (tempos[i]?.beat ?? feltBeat(meterAt(whole, before.from))),
    );
    const hands = {
      chords: changes.map(({ before }) => sayChord(before.chord)),
      next: changes.map(({ after }) => sayChord(after.chord)),
      moves: changes.map(({ move }) => move),
      shapes: held.map(({ right }) => right),
      motion: changes.reduce((sum, { move }) => sum + move.motion, 0),
      leftShifts: Math.max(0, positions.length - 1),
    };
    return ofHands(hands, beats, tempos, key);
  };
}
