import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { costOf, solve, type Choice, type OrderProblem, type Placed } from './solve.ts';

/** A problem as tables, so that a failing one can be read. */
interface Drawn {
  readonly choices: readonly (readonly Choice[])[];
  readonly keys: number;
  readonly caps: readonly number[];
  readonly standing: readonly number[];
  readonly joins: readonly number[];
  readonly pinned: readonly number[];
}

const asProblem = ({ choices, keys, caps, standing, joins, pinned }: Drawn): OrderProblem => ({
  choices,
  keys,
  caps,
  mayStand: (song, place) =>
    pinned[place] === undefined || pinned[place] < 0 || pinned[place] === song,
  atPlace: (song, place) => standing[(song * 5 + place * 3) % standing.length] ?? 0,
  join: (from, fromKey, to, toKey, place) =>
    joins[(from * 7 + fromKey * 5 + to * 3 + toKey + place * 2) % joins.length] ?? 0,
});

function problems(most: { songs: number; keys: number; leads: number; ways: number }) {
  const drawn = fc.tuple(
    fc.integer({ min: 1, max: most.songs }),
    fc.integer({ min: 1, max: most.keys }),
    fc.integer({ min: 1, max: most.leads }),
  );
  return drawn.chain(([songs, keys, leads]) => {
    const choice = fc.record({
      key: fc.nat({ max: keys - 1 }),
      lead: fc.integer({ min: -1, max: leads - 1 }),
      cost: fc.nat({ max: 9 }),
    });
    const own = fc.array(choice, { minLength: 1, maxLength: most.ways });
    return fc.record({
      choices: fc.array(own, { minLength: songs, maxLength: songs }),
      keys: fc.constant(keys),
      caps: fc.array(fc.nat({ max: 3 }), { minLength: leads, maxLength: leads }),
      standing: fc.array(fc.nat({ max: 6 }), { minLength: 1, maxLength: 7 }),
      joins: fc.array(fc.nat({ max: 6 }), { minLength: 1, maxLength: 11 }),
      // Now and then a song is held at its place.
      pinned: fc.array(fc.integer({ min: -4, max: 0 }), { maxLength: 1 }),
    });
  });
}

/** Every order, every choice: the costs of all that fit, cheapest first. Shares nothing with the search. */
function everything(problem: OrderProblem): number[] {
  const costs: number[] = [];
  const taken = problem.caps.map(() => 0);
  const walk = (placed: Placed[]): void => {
    if (placed.length === problem.choices.length) {
      costs.push(costOf(problem, placed));
      return;
    }
    problem.choices.forEach((choices, song) => {
      if (placed.some((each) => each.song === song)) return;
      if (problem.mayStand?.(song, placed.length) === false) return;
      choices.forEach(({ lead }, choice) => {
        if (lead >= 0 && (taken[lead] ?? 0) >= (problem.caps[lead] ?? 0)) return;
        if (lead >= 0) taken[lead] = (taken[lead] ?? 0) + 1;
        walk([...placed, { song, choice }]);
        if (lead >= 0) taken[lead] = (taken[lead] ?? 0) - 1;
      });
    });
  };
  walk([]);
  return costs.sort((a, b) => a - b);
}

describe('The cheapest order', () => {
  it('is that of every order tried, in 10,000 small problems', () => {
    fc.assert(
      fc.property(problems({ songs: 4, keys: 3, leads: 3, ways: 3 }), (drawn) => {
        const problem = asProblem(drawn);
        const all = everything(problem);
        const { best, bound } = solve(problem);
        expect(best.map(({ cost }) => cost)).toEqual(all.slice(0, 1));
        expect(bound).toBe(all[0] ?? Infinity);
        for (const { placed, cost } of best) expect(costOf(problem, placed)).toBe(cost);
      }),
      { numRuns: 10_000 },
    );
  });

  it('comes with the next best ones, all different', () => {
    fc.assert(
      fc.property(problems({ songs: 4, keys: 3, leads: 2, ways: 2 }), (drawn) => {
        const problem = asProblem(drawn);
        const { best } = solve(problem, { best: 3 });
        expect(best.map(({ cost }) => cost)).toEqual(everything(problem).slice(0, 3));
        const said = best.map(({ placed }) => JSON.stringify(placed));
        expect(new Set(said).size).toBe(said.length);
      }),
      { numRuns: 1000 },
    );
  });

  it('says what gap is left where the steps run out, and never one that is too small', () => {
    fc.assert(
      fc.property(
        problems({ songs: 4, keys: 3, leads: 2, ways: 3 }),
        fc.nat({ max: 12 }),
        (drawn, steps) => {
          const problem = asProblem(drawn);
          const [least = Infinity] = everything(problem);
          const { best, bound } = solve(problem, { steps });
          expect(bound).toBeLessThanOrEqual(least);
          if (best[0]) expect(best[0].cost).toBeGreaterThanOrEqual(least);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('is empty for no songs, and none where a song has no way', () => {
    const none = { keys: 1, caps: [], atPlace: () => 0, join: () => 0 };
    expect(solve({ ...none, choices: [] })).toMatchObject({ best: [{ cost: 0 }], bound: 0 });
    expect(solve({ ...none, choices: [[]] })).toMatchObject({ best: [], bound: Infinity });
  });
});
