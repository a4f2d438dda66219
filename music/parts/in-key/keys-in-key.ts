import { tempoAt } from '../../score/time.ts';
import { counted } from '../../score/number-words.ts';
import { sayPlayer, type PlayerCost } from '../../hand/player-cost.ts';
import type { Key } from '../../pitch/key.ts';
import type { Score } from '../../score/score.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import {
  EASY,
  leftHandItems,
  rightHandItems,
  type PartDifficultyItem,
} from '../keys/part-difficulty-items.ts';
import { chordsPlayed, type PlayedPart } from '../keys/part-difficulty-strikes.ts';
import { build } from '../parts.ts';

/** Where no tempo is known: the hardest change that is easy, without its haste (see `PART_LIMITS`). */
const EASY_UNTIMED = 3.5;

/** What the hands do between chords, a place at a time. */
export interface HandMoves {
  /** All of them. */
  readonly moves: readonly PartDifficultyItem[];
  /** Those that are more than easy, the dearest first. */
  readonly hard: readonly PartDifficultyItem[];
  /** Sum of all, in hundredths: on the scale of `Difficulty.ofMove`. */
  readonly total: number;
}

/**
 * Every move of both hands in a part, each pair of neighbours once, as `PartDifficulty` weighs its hardest: what
 * somebody has met before is not asked, so that keys are compared by themselves.
 */
export function movesOf(part: PlayedPart): HandMoves {
  const chords = chordsPlayed(part);
  const moves = [...rightHandItems(part, chords, []), ...leftHandItems(part, chords)].filter(
    ({ cost }) => cost > 0,
  );
  const isHard = ({ at, cost }: PartDifficultyItem): boolean =>
    cost > (tempoAt(part.score, at) === null ? EASY_UNTIMED : EASY);
  const sum = moves.reduce((all, { cost }) => all + cost, 0);
  return {
    moves,
    hard: moves.filter(isHard).sort((a, b) => b.cost - a.cost),
    total: Math.round(sum * 100) / 100,
  };
}

/**
 * What a key asks of both hands at the keys: the moves that are more than easy in the very part that is printed for
 * this player, at their own steps of each ladder. null where there is no part.
 * @param read the song with its chords read once
 */
export function keysInKey(
  read: Score,
  arrangement: Omit<Arrangement, 'key'>,
  player: Player,
  team: Team,
  key: Key,
): PlayerCost | null {
  const built = build(read, { ...arrangement, key }, player, team);
  if (!built.ok) return null;
  const { moves, hard, total } = movesOf(built.value);
  const shapes = built.value.shapes.length;
  const { id, name } = player;
  const phrase = counted(hard.length, 'hard move', 'hard moves');
  const [first] = hard;
  const hardest = first ? `; the hardest: ${first.brief}` : '';
  const who = sayPlayer({ name, role: 'keys' });
  return {
    player: id,
    name,
    role: 'keys',
    ease: { value: hard.length, unit: 'hard moves' },
    finer: [total],
    plays: null,
    phrase,
    sentence: `${who}: ${counted(shapes, 'shape', 'shapes')}, ${phrase} of ${moves.length} in both hands${hardest}.`,
    items: hard.map(({ words, cost }) => ({ words, cost })),
    instead: null,
  };
}
