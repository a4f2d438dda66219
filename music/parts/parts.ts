import { says } from '../pitch/says.ts';
import { failure, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { isFromFile, type Arrangement, type Player, type Team } from './arrangement.ts';
import { bassPart } from './bass/bass.ts';
import { keysPart } from './keys/keys-part.ts';
import type { Part } from './part.ts';
import { withSteps } from './form/raised-words.ts';
import { singer } from './singer/singer.ts';

export { handCosts } from './in-key/hand-costs.ts';
export { playerFor, type PlayingPerson } from './player-for.ts';

const EVERY = ['keys', 'bass', 'lead voice', 'harmony voice'] as const;

/**
 * What one player plays in one song. A role without a part is an expected failure, never another part in its place.
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
  const built = partOf(score, arrangement, player, team);
  if (!built.ok) return built;
  const { names = 'english' } = player;
  const { score: written, directions } = built.value;
  const value: Part = {
    ...built.value,
    directions: withSteps(written, directions, says(names), player.role.endsWith('voice')),
    ...(isFromFile(arrangement) && { tempoFrom: 'file' }),
    ...(names !== 'english' && { names }),
  };
  return { ...built, value };
}

function partOf(score: Score, arrangement: Arrangement, player: Player, team: Team): Result<Part> {
  switch (player.role) {
    case 'keys':
      return keysPart(score, arrangement, player, team);
    case 'bass':
      return bassPart(score, arrangement, player, team);
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
