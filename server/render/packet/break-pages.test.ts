import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakPages, type Extent } from './break-pages.ts';

const block = (height: number, facts: Partial<Extent> = {}): Extent => ({
  height,
  gap: 0,
  keeps: false,
  turns: false,
  ...facts,
});
const TURNS = { turns: true };
const KEEPS = { keeps: true };

describe('Where a page ends', () => {
  it('takes what fits', () => {
    expect(breakPages([block(40), block(40), block(40)], 100)).toEqual([2, 1]);
    expect(breakPages([], 100)).toEqual([]);
  });

  it('counts the gap above a block unless it is the first of its page', () => {
    const gapped = block(40, { gap: 20 });
    expect(breakPages([gapped, gapped, gapped], 100)).toEqual([2, 1]);
    expect(breakPages([gapped, gapped, gapped], 99)).toEqual([1, 1, 1]);
  });

  it('goes back to the last good turn in the last third of the page', () => {
    const blocks = [block(35), block(35, TURNS), block(25), block(25), block(10)];
    expect(breakPages(blocks, 100)).toEqual([2, 3]);
  });

  it('does not go back further than that', () => {
    const blocks = [block(35, TURNS), block(30, TURNS), block(30), block(30), block(10)];
    expect(breakPages(blocks, 100)).toEqual([3, 2]);
  });

  it('never parts a heading from its first line, unless both are more than a page', () => {
    expect(breakPages([block(60), block(30, KEEPS), block(30)], 100)).toEqual([1, 2]);
    expect(breakPages([block(60, KEEPS), block(60)], 100)).toEqual([1, 1]);
  });

  it('gives a block that is higher than the page a page of its own', () => {
    expect(breakPages([block(10), block(150), block(10)], 100)).toEqual([1, 1, 1]);
  });

  /** The rule in other words: every way to end a page is listed, and the best is picked. */
  function slow(blocks: readonly Extent[], room: number): number[] {
    if (blocks.length === 0) return [];
    const ways = blocks.map((_, index) => {
      const on = blocks.slice(0, index + 1);
      const height = on.reduce((sum, each, i) => sum + each.height + (i > 0 ? each.gap : 0), 0);
      return { count: index + 1, height, last: on.at(-1) as Extent };
    });
    const fitting = ways.filter(({ count, height }) => count === 1 || height <= room);
    const rank = ({ count, height, last }: (typeof ways)[number]): number => {
      if (count === blocks.length) return 4;
      if (last.keeps) return 1;
      return last.turns && height >= (room * 2) / 3 ? 3 : 2;
    };
    const [best] = [...fitting].sort((a, b) => rank(b) - rank(a) || b.count - a.count);
    const count = best?.count ?? 1;
    return [count, ...slow(blocks.slice(count), room)];
  }

  it('is as the slow way has it', () => {
    const extents = fc.array(
      fc.record({
        height: fc.integer({ min: 1, max: 60 }),
        gap: fc.integer({ min: 0, max: 10 }),
        keeps: fc.boolean(),
        turns: fc.boolean(),
      }),
      { maxLength: 14 },
    );
    fc.assert(
      fc.property(extents, fc.integer({ min: 30, max: 120 }), (blocks, room) => {
        expect(breakPages(blocks, room)).toEqual(slow(blocks, room));
      }),
    );
  });
});
