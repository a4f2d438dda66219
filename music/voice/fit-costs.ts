import { sayPlayer, type PlayerCost } from '../hand/player-cost.ts';
import { sayMove } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import { numberWord } from '../score/number-words.ts';
import { fifthsOfInterval, interval as intervalTo } from '../score/transpose.ts';
import { amountOutside, sayOutside } from './fit-ends.ts';
import type { KeyFitTable, Verdict, VoiceRow } from './fit-row.ts';
import { rankOf } from './placed.ts';

/** What a key costs the hands, itemised by whoever can say it (the hands' own room). Any unit; less is easier. */
export interface HandCost {
  readonly total: number;
  readonly items: readonly { readonly words: string; readonly cost: number }[];
  /** All of it in words, for people: `four shapes, hardest change C7 to Dm`. Missing: the items and the total say it. */
  readonly phrase?: string;
}

/** One dimension of a key. Keys are compared dimension by dimension; they are never added up. */
export interface Cost {
  readonly dimension: 'voice' | 'hands' | 'player' | 'usual' | 'distance' | 'signature';
  /** Id of the singer where the dimension is a voice. */
  readonly voice: string | null;
  /** Who plays, and what the key asks of them, where the dimension is a player. */
  readonly player?: PlayerCost;
  /**
   * Less is better. A voice: 0 easy, 1 works, 2 edge, 3 outside, plus the share of the time outside (a thousandth for each half step, where time is not known); hands: the total
   * that was handed in; player: their own figure; usual, distance: semitones from the usual and from the written key; signature: sharps or flats to read.
   */
  readonly value: number;
  /** `Ruth: easy`, `one flat`, `down a step`. */
  readonly words: string;
}

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  easy: 'easy',
  works: 'works',
  edge: 'at the edge',
  outside: 'outside the range',
};

export function sayVerdict(verdict: Verdict): string {
  return VERDICT_WORDS[verdict];
}

/** What is known of a key beside the voices. */
export interface BesideVoices {
  readonly hands: HandCost | null;
  readonly players: readonly PlayerCost[];
  /** The key that the song is usually done in; null: it counts for nothing. */
  readonly usual: Key | null;
}

export function costsOf(
  table: KeyFitTable,
  rows: readonly VoiceRow[],
  { hands, players, usual }: BesideVoices,
): Cost[] {
  const [first] = rows;
  if (!first) throw new RangeError('a key has a row for each voice');
  const costs = rows.map((row): Cost => ({
    dimension: 'voice',
    voice: row.voice,
    value: rankOf(row.verdict) + amountOutside(row),
    words: `${row.name}: ${sayVerdict(row.verdict)}${sayShare(row)}`,
  }));
  if (hands)
    costs.push({ dimension: 'hands', voice: null, value: hands.total, words: sayHands(hands) });
  for (const player of players)
    costs.push({
      dimension: 'player',
      voice: null,
      player,
      value: player.ease.value,
      words: `${sayPlayer(player)}: ${player.phrase}`,
    });
  if (usual) costs.push(fromUsual(usual, first.key));
  const { interval } = first;
  const signature = table.signature + fifthsOfInterval(interval);
  costs.push(
    {
      dimension: 'distance',
      voice: null,
      value: Math.abs(interval.semitones),
      words: interval.semitones === 0 ? 'as written' : sayMove(interval),
    },
    {
      dimension: 'signature',
      voice: null,
      value: Math.abs(signature),
      words: saySignature(signature),
    },
  );
  return costs;
}

function fromUsual(usual: Key, key: Key): Cost {
  const way = intervalTo(usual, key);
  return {
    dimension: 'usual',
    voice: null,
    value: Math.abs(way.semitones),
    words: way.semitones === 0 ? 'the usual key' : `${sayMove(way)} from the usual key`,
  };
}

const HANDS = 'hands: ';

/** What a cost says once its name has been said: `works` of `Ruth: works`. */
export function withoutName({ dimension, words }: Cost): string {
  if (dimension === 'voice' || dimension === 'player') return words.slice(words.indexOf(': ') + 2);
  return dimension === 'hands' && words.startsWith(HANDS) ? words.slice(HANDS.length) : words;
}

function sayShare(row: VoiceRow): string {
  const outside = sayOutside(row);
  const where = inPasses(row);
  if (outside === '') return row.verdict === 'easy' ? '' : where;
  return row.known === 'melody' ? `, ${outside}${where}` : `, ${outside} beyond${where}`;
}

/** ` in verse 4, up a whole step`, where a row tells of those passes alone. */
export function inPasses({ where }: VoiceRow): string {
  return where === undefined ? '' : ` ${where}`;
}

function sayHands({ total, items, phrase }: HandCost): string {
  if (phrase !== undefined) return `${HANDS}${phrase}`;
  const list = items.filter(({ cost }) => cost !== 0).map(({ words }) => words);
  return `hands ${round(total)}${list.length > 0 ? ` (${list.join(', ')})` : ''}`;
}

export function saySignature(signature: number): string {
  if (signature === 0) return 'no sharps or flats';
  const count = Math.abs(signature);
  const sign = signature > 0 ? 'sharp' : 'flat';
  return `${numberWord(count)} ${sign}${count === 1 ? '' : 's'}`;
}

/** At most one decimal: `0.4`, `12`. */
export function round(value: number): string {
  return String(Math.round(10 * value) / 10);
}

/** At least as good in every dimension and better in one. Dimensions that either lacks say nothing. */
export function dominates(a: readonly Cost[], b: readonly Cost[]): boolean {
  let better = false;
  for (const cost of a) {
    const other = sameDimension(b, cost);
    if (!other) continue;
    if (cost.value > other.value) return false;
    if (cost.value < other.value) better = true;
  }
  return better;
}

export function sameDimension(costs: readonly Cost[], cost: Cost): Cost | undefined {
  return costs.find(
    ({ dimension, voice, player }) =>
      dimension === cost.dimension &&
      voice === cost.voice &&
      player?.player === cost.player?.player &&
      player?.role === cost.player?.role,
  );
}
