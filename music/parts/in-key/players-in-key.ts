import { buttonChoices, say as sayPlayed, signed, type PlayedKey } from '../../hand/played-key.ts';
import {
  compareCosts,
  sayPlayer,
  type PlayerCost,
  type WeighedRole,
} from '../../hand/player-cost.ts';
import { keysToOffer, sameKey, writeKey, type Key } from '../../pitch/key.ts';
import type { Score } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import { bassInKey } from './bass-in-key.ts';
import { guitarInKey } from './guitar-in-key.ts';
import { keysInKey } from './keys-in-key.ts';
import { overRoots } from '../played-chords.ts';
import { chordsBeside, densityFor } from '../rung-density.ts';

export { compareCosts, sayPlayer, WEIGHED_ROLES } from '../../hand/player-cost.ts';
export type { EaseUnit, PlayerCost, PlayerEase, WeighedRole } from '../../hand/player-cost.ts';

/** Someone who plays this week, as far as a key concerns them. */
export interface PlayerInKey extends Player {
  readonly role: WeighedRole;
  /** At the keys: the keyboard's transpose button is used where it leaves fewer hard moves. */
  readonly byButton?: boolean;
}

type CostIn = (key: Key) => PlayerCost | null;

/** One player's costs, key by key: each is worked out once, when it is first asked for. */
export interface Weighed {
  /** As it sounds. */
  readonly sounding: CostIn;
  /** With a keyboard's transpose button where there is one; that asks `sounding` for every key. */
  readonly cost: CostIn;
}

/** What a key costs every player, in their order; who cannot be weighed (no chords, no shape in reach) is left out. */
export interface KeyForPlayers {
  readonly key: Key;
  readonly costs: readonly PlayerCost[];
}

/**
 * What each of the twelve keys asks of this week's players: one after another, each with its own figure and unit.
 * @param score in its own key
 */
export function costs(
  score: Score,
  arrangement: Omit<Arrangement, 'key'>,
  players: readonly PlayerInKey[],
  team: Team,
): KeyForPlayers[] {
  const weighed = players.map((player) => weigh(score, arrangement, player, team));
  return keysToOffer(score.keys[0]?.key.mode ?? 'major').map((key) => ({
    key,
    costs: weighed.flatMap(({ cost }) => cost(key) ?? []),
  }));
}

/**
 * The same of one player. The chords are read once, in the song's own key, and then transposed; at the keys the part
 * itself is laid out in each key, because shapes depend on where the black keys lie.
 */
export function weigh(
  score: Score,
  arrangement: Omit<Arrangement, 'key'>,
  player: PlayerInKey,
  team: Team,
): Weighed {
  const sounding = once(inKey(score, arrangement, player, team));
  if (player.role !== 'keys' || !player.instruments?.transposeButton)
    return { sounding, cost: sounding };
  const cost = once((key) => {
    const own = sounding(key);
    const other = easiestByButton(sounding, key);
    if (!own || !other || other.ease.value >= own.ease.value) return own;
    return player.byButton ? other : { ...own, instead: other };
  });
  return { sounding, cost };
}

function inKey(
  score: Score,
  arrangement: Omit<Arrangement, 'key'>,
  player: PlayerInKey,
  team: Team,
): CostIn {
  let read: Score | null = null;
  const once = (): Score => (read ??= withChordsRead(score, arrangement, player));
  return (key) => {
    if (player.role === 'guitar') return guitarInKey(once(), player, key);
    if (player.role === 'bass') return bassInKey(once(), player, key);
    return keysInKey(once(), arrangement, player, team, key);
  };
}

/**
 * The tune with the chords that this player plays, as if somebody had written them: nothing is read again in another
 * key. What a first rung leaves to others (basses that were found, chords in the pickup) is left out already.
 */
function withChordsRead(
  score: Score,
  { density }: Omit<Arrangement, 'key'>,
  player: PlayerInKey,
): Score {
  const own = player.role === 'guitar' ? density : densityFor(density, player);
  const before = readings.get(score) ?? new Map<string, Score>();
  readings.set(score, before);
  const found = before.get(`${density} ${own}`);
  if (found) return found;
  const chords = overRoots({ ...score, chords: chordsBeside(score, density, own) });
  const read: Score = {
    ...score,
    voices: score.voices.length > 0 ? [melodyOf(score)] : [],
    chords: chords.map(({ guess: _, ...entry }) => entry),
  };
  before.set(`${density} ${own}`, read);
  return read;
}

/** Players of one density read the same chords. */
const readings = new WeakMap<Score, Map<string, Score>>();

function once(of: CostIn): CostIn {
  const known = new Map<string, PlayerCost | null>();
  return (key) => {
    const name = writeKey(key);
    const before = known.get(name);
    if (before !== undefined) return before;
    const cost = of(key);
    known.set(name, cost);
    return cost;
  };
}

/** The easiest key to play in while another one sounds; of equal ones the smaller setting, then the one up. */
function easiestByButton(sounding: CostIn, sounds: Key): PlayerCost | null {
  const found = buttonChoices(sounds).flatMap((plays) => {
    const cost = sounding(plays.plays);
    return cost ? [{ cost, plays }] : [];
  });
  const best = found.reduce<(typeof found)[number] | null>((a, b) => {
    if (!a) return b;
    const less =
      compareCosts(b.cost, a.cost) ||
      Math.abs(b.plays.amount) - Math.abs(a.plays.amount) ||
      b.plays.amount - a.plays.amount;
    return less < 0 ? b : a;
  }, null);
  return best && !sameKey(best.plays.plays, sounds) ? played(best.cost, best.plays) : null;
}

function played(cost: PlayerCost, plays: PlayedKey): PlayerCost {
  const before = `${sayPlayer(cost)}: `;
  return {
    ...cost,
    plays,
    phrase: `in ${sayPlayed(plays.plays)}, keyboard at ${signed(plays.amount)}: ${cost.phrase}`,
    sentence: `${before}${plays.words}; ${cost.sentence.slice(before.length)}`,
    instead: null,
  };
}
