import { sayPlayer, type EaseUnit, type PlayerCost } from '../hand/player-cost.ts';
import { sayMove } from '../pitch/interval.ts';
import { sayTonic, type Key } from '../pitch/key.ts';
import { counted } from '../score/number-words.ts';
import { interval } from '../score/transpose.ts';
import { sameDimension, withoutName, type Cost } from './fit-costs.ts';
import type { FrontRow } from './fit-front.ts';

/** What one step along the keys that stay gains and loses, dimension by dimension. */
export interface Trade {
  readonly from: Key;
  readonly to: Key;
  readonly gained: readonly string[];
  readonly lost: readonly string[];
  /** Neither better nor worse, and other than it was: another fret for the capo. */
  readonly changed: readonly string[];
  /** `From G to F, down a step. Gained: … Lost: …` */
  readonly sentence: string;
}

/** The keys that no other one is better than in everything, from the lowest to the highest round the written key. */
export function along(rows: readonly FrontRow[]): FrontRow[] {
  return rows.filter(({ dominated }) => dominated === null).sort(byPitch);
}

/** From the lowest key to the highest, as the tune lies. */
export function byPitch(a: FrontRow, b: FrontRow): number {
  return semitonesOf(a) - semitonesOf(b);
}

/** Semitones of a key from the written one. */
export const semitonesOf = ({ voices }: FrontRow): number => voices[0]?.interval.semitones ?? 0;

/** What it gains and loses to go from one key to another. Dimensions that either lacks say nothing. */
export function trade(from: FrontRow, to: FrontRow): Trade {
  const gained: string[] = [];
  const lost: string[] = [];
  const changed: string[] = [];
  for (const cost of to.costs) {
    const before = sameDimension(from.costs, cost);
    if (!before) continue;
    const words = sayChange(before, cost);
    if (cost.value < before.value) gained.push(words);
    else if (cost.value > before.value) lost.push(words);
    else if (cost.player && before.player && capoOf(cost.player) !== capoOf(before.player))
      changed.push(`${sayFret(cost.player, before.player)} for ${cost.player.name}`);
  }
  const way = sayMove(interval(from.key, to.key));
  const parts = [
    `From ${sayTonic(from.key)} to ${sayTonic(to.key)}, ${way}.`,
    `Gained: ${gained.length > 0 ? gained.join('; ') : 'nothing'}.`,
    `Lost: ${lost.length > 0 ? lost.join('; ') : 'nothing'}.`,
    ...(changed.length > 0 ? [`Also ${changed.join('; ')}.`] : []),
  ];
  return { from: from.key, to: to.key, gained, lost, changed, sentence: parts.join(' ') };
}

const capoOf = ({ plays }: PlayerCost): number => (plays?.by === 'capo' ? plays.amount : 0);

/** `capo 3 instead of 1`, `capo 3 instead of none`, `no capo instead of capo 2`. */
function sayFret(now: PlayerCost, before: PlayerCost): string {
  const [fret, was] = [capoOf(now), capoOf(before)];
  if (fret === 0) return `no capo instead of capo ${was}`;
  return `capo ${fret} instead of ${was === 0 ? 'none' : was}`;
}

function sayChange(before: Cost, now: Cost): string {
  const isLess = now.value < before.value;
  const ease = isLess ? 'easier' : 'harder';
  if (now.player && before.player)
    return `${ease} for ${sayPlayer(now.player)} (${sayPlaying(before.player, now.player)})`;
  if (now.dimension === 'voice') {
    const name = now.words.slice(0, now.words.indexOf(': '));
    return `${ease} for ${name} (${withoutName(now)} instead of ${withoutName(before)})`;
  }
  const words = `${withoutName(now)} instead of ${withoutName(before)}`;
  if (now.dimension === 'distance') return `${isLess ? 'nearer to' : 'further from'} the home key`;
  if (now.dimension === 'usual') return `${isLess ? 'nearer to' : 'further from'} the usual key`;
  return words;
}

const COUNTED: Readonly<Record<Exclude<EaseUnit, 'per cent off open strings'>, [string, string]>> =
  {
    'hard moves': ['hard move', 'hard moves'],
    'barre changes': ['change to a barre chord', 'changes to a barre chord'],
  };

function sayPlaying(before: PlayerCost, now: PlayerCost): string {
  const { unit, value } = now.ease;
  if (unit === 'per cent off open strings')
    return `open strings for ${100 - value} % of the time instead of ${100 - before.ease.value} %`;
  const [one, many] = COUNTED[unit];
  const far = Math.abs(value - before.ease.value);
  const count = `${counted(far, one, many)} ${value < before.ease.value ? 'fewer' : 'more'}`;
  return capoOf(now) === capoOf(before) ? count : `${count}, ${sayFret(now, before)}`;
}
