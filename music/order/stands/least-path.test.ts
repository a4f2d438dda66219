import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastPath, type LazyWay } from './least-path.ts';

interface Case {
  /** Per song and way: what is known at first, and what comes on top. */
  readonly songs: readonly (readonly (readonly [known: number, more: number])[])[];
  readonly joins: readonly number[];
}

const cases: fc.Arbitrary<Case> = fc.record({
  songs: fc.array(fc.array(fc.tuple(fc.nat(6), fc.nat(6)), { minLength: 1, maxLength: 4 }), {
    minLength: 0,
    maxLength: 5,
  }),
  joins: fc.array(fc.nat(5), { minLength: 64, maxLength: 64 }),
});

/** Every choice, with all costs known; the first of the cheapest. */
function brute({ songs, joins }: Case): { cost: number; chosen: number[] } {
  let best = { cost: Infinity, chosen: [] as number[] };
  const walk = (chosen: number[], cost: number): void => {
    const place = chosen.length;
    if (place === songs.length) {
      if (cost < best.cost) best = { cost, chosen };
      return;
    }
    songs[place]?.forEach(([known, more], way) => {
      const join = place === 0 ? 0 : joinOf(joins, place - 1, chosen[place - 1] ?? 0, way);
      walk([...chosen, way], cost + known + more + join);
    });
  };
  walk([], 0);
  return best;
}

const joinOf = (joins: readonly number[], place: number, from: number, to: number): number =>
  joins[(place * 16 + from * 4 + to) % joins.length] ?? 0;

function lazy({ songs }: Case, asked: (song: number, way: number) => void): LazyWay<number>[][] {
  return songs.map((ways, song) =>
    ways.map(([known, more], way) => ({
      way,
      atLeast: known,
      cost: () => {
        asked(song, way);
        return known + more;
      },
    })),
  );
}

describe('The cheapest way through all songs', () => {
  it('is the one that trying everything finds, though most costs are never asked for', () => {
    fc.assert(
      fc.property(cases, (each) => {
        const chosen = leastPath(
          lazy(each, () => undefined),
          (place, from, to) => joinOf(each.joins, place, from, to),
        );
        expect(chosen).toEqual(brute(each).chosen);
      }),
      { numRuns: 5000 },
    );
  });

  it('asks for a cost once, and never for that of a song without a choice', () => {
    fc.assert(
      fc.property(cases, (each) => {
        const asked: string[] = [];
        const ways = lazy(each, (song, way) => asked.push(`${song}.${way}`));
        leastPath(ways, () => 0);
        expect(new Set(asked).size).toBe(asked.length);
        each.songs.forEach((own, song) => {
          if (own.length === 1) expect(asked).not.toContain(`${song}.0`);
        });
      }),
      { numRuns: 1000 },
    );
  });

  it('leaves what cannot be better unknown', () => {
    const asked: number[] = [];
    const way = (index: number, atLeast: number, cost: number): LazyWay<number> => ({
      way: index,
      atLeast,
      cost: () => {
        asked.push(index);
        return cost;
      },
    });
    expect(leastPath([[way(0, 0, 3), way(1, 4, 9), way(2, 2, 2)]], () => 0)).toEqual([2]);
    expect(asked).toEqual([0, 2]);
  });

  it('is none where a song has no way', () => {
    expect(leastPath([[], []], () => 0)).toBeNull();
    expect(leastPath([], () => 0)).toEqual([]);
  });
});
