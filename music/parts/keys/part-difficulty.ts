import type { KnownShape } from '../known-shape.ts';
import {
  EASY,
  leftHandItem,
  octavesItem,
  rightHandItem,
  shapesItem,
  strikesItem,
  type PartDifficultyItem,
} from './part-difficulty-items.ts';
import { chordsPlayed, type PlayedPart } from './part-difficulty-strikes.ts';

export { EASY, PART_WEIGHTS } from './part-difficulty-items.ts';
export type { PartDifficultyItem, PartDifficultyKind } from './part-difficulty-items.ts';
export type { PlayedPart } from './part-difficulty-strikes.ts';

export type PartEase = 'easy' | 'takes practice' | 'hard';

/** How hard a part at the keys is for somebody. */
export interface PartDifficulty {
  /** What costs, each side of the part at its hardest place, the dearest first. */
  readonly items: readonly PartDifficultyItem[];
  /** The sum of the items. */
  readonly total: number;
  /** null: what they have met is not given, and it is not easy whatever they have met. */
  readonly word: PartEase | null;
}

/**
 * Up to `easy` a part is easy, up to `practice` it takes practice, above it is hard: the dearest item, which is the part's
 * hardest place, and all items together, as everything is played at once. That held shapes with a change a bar and little
 * motion are easy is common practice; the numbers are ours. The hardest change that is easy: all three fingers a step, and
 * another finger on one of the keys, within a beat at a walking pace (3.5 on the scale of `Difficulty.ofMove`, and 0.6
 * seconds for it). Three places as hard as that are as much as is easy, three times as hard as much as practice gives.
 */
export const PART_LIMITS = {
  item: { easy: EASY, practice: 3 * EASY },
  total: { easy: 3 * EASY, practice: 7 * EASY },
} as const;

/**
 * What a part at the keys asks of this player: the hardest change of the right hand and the furthest way of the left in
 * the time from strike to strike at the tempo there, how often a hand strikes in a second, octaves in turn, and shapes that
 * are new. Weights and limits: `PART_WEIGHTS`, `PART_LIMITS`. More time and more that is known never make a part harder.
 * Where no tempo is known time is not counted.
 * @param known the shapes that the player has met (`Known.of`); missing, as for a sheet: nothing is said of shapes, and
 * `easy` only where it is so for whoever has met none
 */
export function of(part: PlayedPart, known?: readonly KnownShape[]): PartDifficulty {
  const chords = chordsPlayed(part);
  const met = known ?? [];
  const shapes = shapesItem(part, met);
  const all = [
    rightHandItem(part, chords, met),
    leftHandItem(part, chords),
    strikesItem(part),
    octavesItem(part),
    shapes,
  ]
    .filter((item) => item !== null)
    .sort((a, b) => b.cost - a.cost);
  const word = wordFor(all[0]?.cost ?? 0, sumOf(all));
  if (known) return { items: all, total: sumOf(all), word };
  const items = all.filter((item) => item !== shapes);
  return { items, total: sumOf(items), word: word === 'easy' ? word : null };
}

const sumOf = (items: readonly PartDifficultyItem[]): number =>
  Math.round(items.reduce((sum, { cost }) => sum + cost, 0) * 100) / 100;

/** So many places are named: what to practise this week is no more. */
const MOST_SAID = 3;

const SAID: Readonly<Record<PartEase, string>> = {
  easy: 'it is easy',
  'takes practice': 'it takes practice',
  hard: 'it is hard',
};

/**
 * `For Ines it takes practice: bar 12, from C to E7 in one beat; four shapes not played here yet: F, C7, Gm and one more.`
 * The dearest two or three items; of what is easy only what asks most.
 */
export function say({ word, items }: Pick<PartDifficulty, 'word' | 'items'>, name: string): string {
  const named = items.slice(0, word === 'easy' ? 1 : MOST_SAID).map(({ brief }) => brief);
  const before = word === 'easy' ? '; what asks most: ' : ': ';
  if (word === null) return `What asks most of ${name}: ${named.join('; ')}.`;
  const places = named.length === 0 ? '' : `${before}${named.join('; ')}`;
  return `For ${name} ${SAID[word]}${places}.`;
}

function wordFor(most: number, total: number): PartEase {
  const isWithin = (limit: 'easy' | 'practice') =>
    most <= PART_LIMITS.item[limit] && total <= PART_LIMITS.total[limit];
  return isWithin('easy') ? 'easy' : isWithin('practice') ? 'takes practice' : 'hard';
}
