import fc from 'fast-check';
import { expect, it } from 'vitest';
import { firstOf } from './first-of.ts';

interface Entry {
  readonly rank: number;
  readonly at: number;
}

it('gives what sorting the whole list gives, equal ones in their order', () => {
  const ranks = fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 60 });
  const byRank = (a: Entry, b: Entry): number => a.rank - b.rank;
  fc.assert(
    fc.property(ranks, fc.integer({ min: 0, max: 70 }), (list, most) => {
      const entries = list.map((rank, at): Entry => ({ rank, at }));
      const sorted = [...entries].sort(byRank).slice(0, most);
      expect(firstOf(entries, byRank, most)).toEqual(sorted);
    }),
  );
});
