import { failure, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import type { Arrangement, Player, Team } from './arrangement.ts';
import { keysBeginner } from './keys-beginner.ts';
import type { Part } from './part.ts';

export { handCosts } from './hand-costs.ts';
export { playerFor, type PlayingPerson } from './player-for.ts';

const EVERY = ['keys'] as const;

/**
 * What one player plays in one song. A role or level without a part is an expected failure, never another part in its
 * place.
 * @param _team who else plays this week; the first rung at the keys is whole without anybody
 */
export function build(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  _team: Team,
): Result<Part> {
  if (player.role !== 'keys') {
    return failure({
      code: 'role-without-part',
      message: `There is no written part for ${player.role} yet, so none for ${player.name}: Partbook writes parts for ${EVERY.join(', ')}.`,
    });
  }
  if (player.level !== 'beginner') {
    return failure({
      code: 'level-without-part',
      message: `There is no ${player.level} part at the keys yet; ${player.name} can have the beginner's part, which is whole in itself.`,
    });
  }
  return keysBeginner(score, arrangement, player);
}
