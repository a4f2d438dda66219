import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { LINE_RULES } from './line-rules.ts';
import {
  between,
  CHORD_RULES,
  keysOf,
  ofThreeNotes,
  together,
  turned,
  usualOf,
  WAYS,
  type Grip,
  type PartPoints,
  type PartRule,
} from './part-fingering-costs.ts';
import type { Hand } from './shape.ts';

/** One way to finger what a hand plays, with its points: 0 and up, fewer are easier. */
export interface PartFingering {
  /** Strike by strike, low to high (1 thumb … 5 little finger). */
  readonly fingers: readonly (readonly number[])[];
  readonly total: number;
  /** What makes up the total, by rule; rules without points are missing. */
  readonly points: PartPoints;
}

export interface PartOptions {
  /** How many ways are wanted, the easiest first. Default 1. */
  readonly most?: number;
  /** Fingers that are given, strike by strike, low to high; null or missing: free. */
  readonly given?: Given;
}

export type Given = readonly (readonly number[] | null)[];

const sumOf = (points: PartPoints): number =>
  Object.values(points).reduce((sum, each) => sum + each, 0);

/** A way so far. What comes later depends on its last two strikes alone. */
interface Way {
  readonly total: number;
  /** Which of the ways to finger its last strike. */
  readonly last: number;
  readonly before: Way | null;
}

/**
 * The easiest ways to finger a hand's whole part, exact: fewest points of `pointsOfPart`; of equals the one whose fingers,
 * counted from the thumb's side, are nearest the thumb at the strike where they first differ. By dynamic programming over
 * the fingerings of each strike, as Al Kasimi, Nichols & Raphael (ISMIR 2007) do; single notes look two strikes back,
 * as three of the rules of Parncutt et al. 1997 do. Even experts disagree (Nakamura, Saito & Yoshii 2020): what comes first
 * is one good choice among several.
 * @param strikes in order; each one to five different keys that are held together, or taken in turn without moving the
 *   hand. Throws on anything else.
 */
export function ofPart(
  strikes: readonly (readonly PitchName[])[],
  hand: Hand,
  { most = 1, given = [] }: PartOptions = {},
): PartFingering[] {
  const ways = fingerer(hand)(strikes, most, given);
  return ways.map((fingers) => pointsOfPart(strikes, fingers, hand));
}

/**
 * The points of one way to finger a part. For each strike: one note has the points of `ofNote`, notes together `holding`
 * (spans of Parncutt et al. 1997) and `departure` from their published fingers. From strike to strike: between single
 * notes the twelve rules of Parncutt et al. 1997; else keys under another finger, fingers to another key, the thumb passing,
 * the hand put anew (`CHORD_POINTS`, ours).
 */
export function pointsOfPart(
  strikes: readonly (readonly PitchName[])[],
  fingers: readonly (readonly number[])[],
  hand: Hand,
): PartFingering {
  const grips = strikes.map((notes, i) => gripOf(notes, turned(fingers[i] ?? [], hand), hand));
  const points: Partial<Record<PartRule, number>> = {};
  const add = (more: PartPoints) => {
    for (const rule of [...LINE_RULES, ...CHORD_RULES])
      if (more[rule]) points[rule] = (points[rule] ?? 0) + more[rule];
  };
  grips.forEach((grip, i) => {
    const [before, second] = [grips[i - 1], grips[i - 2]];
    add(together(grip, usualOf(strikes[i] ?? [], hand)));
    if (before) add(between(before, grip));
    if (before && second) add(ofThreeNotes(second, before, grip));
  });
  return { fingers: fingers.map((each) => [...each]), total: sumOf(points), points };
}

/** The same keys have the same sign, however they are spelled. */
export const signOf = (notes: readonly PitchName[]): string =>
  notes
    .map(midiOf)
    .sort((a, b) => a - b)
    .join(' ');

function gripOf(notes: readonly PitchName[], fingers: readonly number[], hand: Hand): Grip {
  return keysOf(notes, hand).map((key, i) => ({ key, finger: fingers[i] ?? 0 }));
}

/** Every way to finger the same keys. */
interface Choice {
  readonly id: number;
  readonly isSingle: boolean;
  readonly grips: readonly Grip[];
  /** Points of each way by itself. */
  readonly own: readonly number[];
}

function choiceOf(
  id: number,
  notes: readonly PitchName[],
  hand: Hand,
  given: readonly number[] | null,
): Choice {
  const keys = keysOf(notes, hand);
  if (keys.length === 0 || keys.length > 5 || new Set(keys).size < keys.length)
    throw new RangeError(
      `a hand strikes one to five different keys, not ${notes.join(' ') || 'none'}`,
    );
  const ways = given ? [turned(given, hand)] : (WAYS[keys.length] ?? []);
  const grips = ways.map((way) => gripOf(notes, way, hand));
  const usual = usualOf(notes, hand);
  const own = grips.map((grip) => sumOf(together(grip, usual)));
  return { id, isSingle: keys.length === 1, grips, own };
}

/**
 * Fingers parts of one hand, and remembers what it has worked out from part to part. Gives the fingers of the `most`
 * easiest ways, strike by strike, low to high; without strikes one empty way.
 */
export function fingerer(hand: Hand) {
  const known = new Map<string, Choice>();
  const costs = costsBetween();
  return (strikes: readonly (readonly PitchName[])[], most: number, given: Given): number[][][] => {
    const choices = strikes.map((notes, i) => {
      const fixed = given[i] ?? null;
      const sign = `${signOf(notes)}: ${fixed?.join('') ?? ''}`;
      const found = known.get(sign) ?? choiceOf(known.size, notes, hand, fixed);
      known.set(sign, found);
      return found;
    });
    let ways: readonly Way[] = [{ total: 0, last: 0, before: null }];
    choices.forEach((choice, i) => {
      ways = onward(ways, [choices[i - 2], choices[i - 1], choice], costs, most);
    });
    // Ways stand in the order of the tie-break, which sorting keeps.
    return [...ways]
      .sort((a, b) => a.total - b.total)
      .slice(0, most)
      .map((way) => fingersOf(way, choices, hand));
  };
}

/**
 * The best few ways to each fingering of a strike, and of each fingering before it where both are single notes.
 * @param ways in the order of the tie-break, nearest the thumb first; so is what comes back
 */
function onward(
  ways: readonly Way[],
  [second, from, to]: readonly [Choice | undefined, Choice | undefined, Choice],
  costs: ReturnType<typeof costsBetween>,
  most: number,
): Way[] {
  const step = from && costs.step(from, to);
  const looksBack = from !== undefined && from.isSingle && to.isSingle;
  const three = looksBack && second?.isSingle ? costs.three(second, from, to) : null;
  const count = to.grips.length;
  const width = from?.grips.length ?? 1;
  const kept = best(count * (looksBack ? width : 1), most);
  ways.forEach((way, index) => {
    const back = ((way.before?.last ?? 0) * width + way.last) * count;
    for (let last = 0; last < count; last += 1) {
      const here = way.last * count + last;
      const points = (to.own[last] ?? 0) + (step?.[here] ?? 0) + (three?.[back + last] ?? 0);
      kept.offer(looksBack ? here : last, way.total + points, index * count + last);
    }
  });
  return kept.inOrder().map(({ total, which }): Way => {
    return { total, last: which % count, before: ways[Math.floor(which / count)] ?? null };
  });
}

/** For each of so many goals the `most` offers of least total; of equals those offered first. */
function best(goals: number, most: number) {
  const totals = new Float64Array(goals * most).fill(Infinity);
  const offers = new Int32Array(goals * most).fill(-1);
  return {
    offer(goal: number, total: number, which: number): void {
      const first = goal * most;
      let at = first + most - 1;
      if (total >= (totals[at] ?? 0)) return;
      for (; at > first && total < (totals[at - 1] ?? 0); at -= 1) {
        totals[at] = totals[at - 1] ?? 0;
        offers[at] = offers[at - 1] ?? 0;
      }
      totals[at] = total;
      offers[at] = which;
    },
    inOrder(): { readonly total: number; readonly which: number }[] {
      return [...offers]
        .map((which, i) => ({ which, total: totals[i] ?? 0 }))
        .filter(({ which }) => which >= 0)
        .sort((a, b) => a.which - b.which);
    },
  };
}

function fingersOf(way: Way, choices: readonly Choice[], hand: Hand): number[][] {
  const found: number[][] = [];
  let here: Way | null = way;
  for (let i = choices.length - 1; i >= 0 && here; i -= 1) {
    const grip = choices[i]?.grips[here.last] ?? [];
    found.push(turned(grip.map(({ finger }) => finger), hand)); // prettier-ignore
    here = here.before;
  }
  return found.reverse();
}

/** More than there are: ten searches of a thousand shapes each. Three ids make one exact number. */
const MOST_CHOICES = 100_000;

/** Tables of points between choices, each worked out once: a part meets the same keys over and over. */
function costsBetween() {
  const steps = new Map<number, Float64Array>();
  const threes = new Map<number, Float64Array>();
  return {
    step(from: Choice, to: Choice): Float64Array {
      const sign = from.id * MOST_CHOICES + to.id;
      const found = steps.get(sign);
      if (found) return found;
      const pairs = from.grips.flatMap((one) =>
        to.grips.map((other) => sumOf(between(one, other))),
      );
      const table = Float64Array.from(pairs);
      steps.set(sign, table);
      return table;
    },
    three(first: Choice, second: Choice, third: Choice): Float64Array {
      const sign = (first.id * MOST_CHOICES + second.id) * MOST_CHOICES + third.id;
      const found = threes.get(sign);
      if (found) return found;
      const all = first.grips.flatMap((one) =>
        second.grips.flatMap((two) =>
          third.grips.map((last) => sumOf(ofThreeNotes(one, two, last))),
        ),
      );
      const table = Float64Array.from(all);
      threes.set(sign, table);
      return table;
    },
  };
}
