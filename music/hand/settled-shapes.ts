import type { Places, Way } from './best-path.ts';
import type { Candidates } from './candidates.ts';
import { compare, leastAssignment, type Factor, type Ranked } from './least-assignment.ts';
import { pitchClassOf } from '../pitch/pitch.ts';

export interface SettledChoices {
  /** One shape per place, the same wherever the same keys of the octave are asked for. */
  readonly choices: readonly number[];
  /** Whether they are proven best. */
  readonly best: boolean;
}

/**
 * One shape for each different chord, so that the whole way costs least. The unknowns are the
 * different chords in the order they first appear; each change from one to another is a cost of two
 * unknowns, as often as it happens. Where that is too much to prove (dozens of chords, each beside
 * each), a way that no single chord can make better.
 */
export function settledChoices(
  inHand: readonly Candidates[],
  places: Places,
  loop: boolean,
  most?: number,
): SettledChoices {
  const { which, sizes } = unknowns(inHand);
  const factors = factorsOf(which, sizes, places, loop);
  const found = leastAssignment(sizes, factors, most);
  const choices = found?.choices ?? improved(sizes, factors);
  return { choices: which.map((unknown) => choices[unknown] as number), best: found !== null };
}

/** Chords on the same keys of the octave are one unknown, however they are spelled. */
function unknowns(inHand: readonly Candidates[]): { which: number[]; sizes: number[] } {
  const numbers = new Map<string, number>();
  const sizes: number[] = [];
  const which = inHand.map((candidates) => {
    const name = candidates.tones
      .map(pitchClassOf)
      .sort((a, b) => a - b)
      .join(' ');
    let number = numbers.get(name);
    if (number === undefined) {
      numbers.set(name, (number = numbers.size));
      sizes.push(candidates.count);
    }
    return number;
  });
  return { which, sizes };
}

function factorsOf(
  which: readonly number[],
  sizes: readonly number[],
  places: Places,
  loop: boolean,
): Factor[] {
  const factors = new Map<string, Factor>();
  const factor = (scope: readonly number[]): Factor => {
    const name = scope.join(' ');
    let found = factors.get(name);
    if (!found) {
      const length = scope.reduce((product, one) => product * (sizes[one] as number), 1);
      found = { scope, first: new Float64Array(length), then: new Float64Array(length) };
      factors.set(name, found);
    }
    return found;
  };
  const changes = new Map<Way, { from: number; to: number; often: number }>();
  which.forEach((unknown, place) => {
    const own = places.own(place);
    const { first, then } = factor([unknown]);
    for (let c = 0; c < first.length; c++) {
      first[c] = (first[c] as number) + (own.first[c] as number);
      then[c] = (then[c] as number) + (own.then[c] as number);
    }
    if (place === which.length - 1 && !loop) return;
    const way = places.way(place);
    const to = which[place + 1] ?? (which[0] as number);
    const often = changes.get(way)?.often ?? 0;
    changes.set(way, { from: unknown, to, often: often + 1 });
  });
  for (const [way, { from, to, often }] of changes) {
    const { first, then } = factor(from === to ? [from] : from < to ? [from, to] : [to, from]);
    const [width, across] = [sizes[to] as number, sizes[from] as number];
    for (let a = 0; a < across; a++)
      for (let b = 0; b < width; b++) {
        if (from === to && a !== b) continue;
        const at = from === to ? a : from < to ? a * width + b : b * across + a;
        first[at] = (first[at] as number) + often * (way.first[way.at + a * width + b] as number);
        then[at] = (then[at] as number) + often * way.then(a, b);
      }
  }
  return [...factors.values()];
}

/** Chord after chord, each to its best shape beside the others as they are, until none changes. */
function improved(sizes: readonly number[], factors: readonly Factor[]): number[] {
  const choices = sizes.map(() => 0);
  const around = sizes.map((_, unknown) => factors.filter(({ scope }) => scope.includes(unknown)));
  const costOf = (unknown: number, choice: number): Ranked => {
    let [first, then] = [0, 0];
    for (const factor of around[unknown] ?? []) {
      const at = factor.scope.reduce(
        (sum, one) =>
          sum * (sizes[one] as number) + (one === unknown ? choice : (choices[one] as number)),
        0,
      );
      first += factor.first[at] as number;
      then += factor.then[at] as number;
    }
    return { first, then };
  };
  for (let changed = true; changed;) {
    changed = false;
    for (let unknown = 0; unknown < sizes.length; unknown++)
      for (let choice = 0; choice < (sizes[unknown] as number); choice++) {
        const [here, there] = [
          costOf(unknown, choices[unknown] as number),
          costOf(unknown, choice),
        ];
        if (compare(there, here) >= 0) continue;
        choices[unknown] = choice;
        changed = true;
      }
  }
  return choices;
}
