import { failure, type Problem, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import type { Arrangement, Player, Team } from './arrangement.ts';
import { bassBeginner } from './bass.ts';
import { keysPart } from './keys/keys-part.ts';
import type { Part } from './part.ts';
import { singer } from './singer.ts';

export { handCosts } from './hand-costs.ts';
export { playerFor, type PlayingPerson } from './player-for.ts';

const EVERY = ['keys', 'bass', 'lead voice', 'harmony voice'] as const;

/**
 * What one player plays in one song. A role without a part is an expected failure, never another part in its place. A
 * level without a part of its own gets the first rung, with a warning that says so.
 * @param arrangement `key` is the one that stands on the page: of a keyboard that is transposed by its button the key
 *   it is played in; singers and bass always read what sounds
 * @param team who else is there this week; the first rungs at the keys and on the bass are whole without anybody
 */
export function build(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  team: Team,
): Result<Part> {
  switch (player.role) {
    case 'keys':
      return keysPart(score, arrangement, player, team);
    case 'bass':
      return firstRung(bassBeginner(score, arrangement, player), player);
    case 'lead voice':
    case 'harmony voice':
      return singer(score, arrangement, player, team);
    default:
      return failure({
        code: 'role-without-part',
        message: `There is no written part for ${player.role} yet, so none for ${player.name}: Partbook writes parts for ${EVERY.join(', ')}.`,
      });
  }
}

function firstRung(built: Result<Part>, player: Player): Result<Part> {
  if (!built.ok || player.level === 'beginner') return built;
  const missing: Problem = {
    code: 'level-without-part',
    message: `There is no ${player.level} part for ${player.role} yet; this is the first rung, whole in itself.`,
  };
  return { ...built, warnings: [...built.warnings, missing] };
}
