import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakPages, COST, placesOn, type Extent } from './break-pages.ts';

const block = (height: number, facts: Partial<Extent> = {}): Extent => ({
  height,
  gap: 0,
  least: facts.gap ?? 0,
  keeps: false,
  turns: false,
  isMusic: false,
  ...facts,
});
const TURNS = { turns: true };
const KEEPS = { keeps: true };
const MUSIC = { isMusic: true };

/** The stated costs in other words: every way to end pages is listed and summed. */
function slow(blocks: readonly Extent[], room: number): { cost: number; ways: number[][] } {
  const lines = blocks.filter(({ isMusic }) => isMusic).length;
  let found: { cost: number; ways: number[][] } = { cost: Infinity, ways: [] };
  for (let mask = 0; mask < 2 ** Math.max(0, blocks.length - 1); mask++) {
    const pages: Extent[][] = [];
    blocks.forEach((each, index) => {
      if (index === 0 || mask & (1 << (index - 1))) pages.push([]);
      pages.at(-1)?.push(each);
    });
    let cost = 0;
    pages.forEach((page, index) => {
      const heights = page.reduce((sum, { height }) => sum + height, 0);
      const gaps = page.slice(1);
      const wanted = heights + gaps.reduce((sum, { gap }) => sum + gap, 0);
      const least = heights + gaps.reduce((sum, each) => sum + each.least, 0);
      if (least > room && page.length > 1) cost = Infinity;
      const own = page.filter(({ isMusic }) => isMusic).length;
      cost += COST.page;
      if (wanted > room && wanted > least)
        cost += COST.tight * Math.min(1, (wanted - room) / (wanted - least));
      if (own === 1 && lines > 1) cost += COST.alone;
      if (own === 0 && lines > 0) cost += COST.noMusic;
      if (index === pages.length - 1) return;
      if (wanted < room) cost += COST.empty * (1 - wanted / room) ** 2;
      if (!page.at(-1)?.turns) cost += COST.turn;
      if (page.at(-1)?.keeps) cost += COST.parted;
    });
    const way = pages.map(({ length }) => length);
    if (Math.abs(cost - found.cost) < 1e-9 || cost === found.cost) found.ways.push(way);
    else if (cost < found.cost) found = { cost, ways: [way] };
  }
  return found;
}

/** Of equal ways the one with more on its first pages. */
const firstFull = (ways: readonly number[][]): number[] | undefined =>
  [...ways].sort((a, b) => {
    const at = a.findIndex((count, index) => count !== b[index]);
    return (b[at] ?? 0) - (a[at] ?? 0);
  })[0];

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

  it('tightens gaps rather than take a page more', () => {
    const gapped = block(40, { gap: 20, least: 5 });
    expect(breakPages([gapped, gapped], 85)).toEqual([2]);
    expect(breakPages([gapped, gapped], 84)).toEqual([1, 1]);
  });

  it('goes back to a good turn where the page stays filled, and no further', () => {
    const blocks = [block(40), block(35, TURNS), block(25), block(25), block(10)];
    expect(breakPages(blocks, 100)).toEqual([2, 3]);
    const early = [block(35, TURNS), block(30), block(30), block(30), block(10)];
    expect(breakPages(early, 100)).toEqual([3, 2]);
  });

  it('leaves no line of music alone where there is another way', () => {
    const line = block(30, MUSIC);
    expect(breakPages([line, line, line, line], 95)).toEqual([2, 2]);
  });

  it('gives the end of a sheet a line of music rather than a page of its own', () => {
    const line = block(20, MUSIC);
    expect(breakPages([line, line, line, line, line, block(30)], 100)).toEqual([3, 3]);
  });

  it('never parts a heading from its first line, unless both are more than a page', () => {
    expect(breakPages([block(60), block(30, KEEPS), block(30)], 100)).toEqual([1, 2]);
    expect(breakPages([block(60, KEEPS), block(60)], 100)).toEqual([1, 1]);
  });

  it('gives a block that is higher than the page a page of its own', () => {
    expect(breakPages([block(10), block(150), block(10)], 100)).toEqual([1, 1, 1]);
  });

  const extent = fc.record({
    height: fc.integer({ min: 1, max: 60 }),
    gap: fc.integer({ min: 4, max: 10 }),
    least: fc.integer({ min: 0, max: 4 }),
    keeps: fc.boolean(),
    turns: fc.boolean(),
    isMusic: fc.boolean(),
  });

  it('is the cheapest of all ways, and of equal ones the fullest at first', () => {
    const extents = fc.array(extent, { minLength: 1, maxLength: 10 });
    fc.assert(
      fc.property(extents, fc.integer({ min: 30, max: 120 }), (blocks, room) => {
        expect(breakPages(blocks, room)).toEqual(firstFull(slow(blocks, room).ways));
      }),
      { numRuns: 150 },
    );
  });
});

describe('Where blocks stand on a page', () => {
  const gapped = block(40, { gap: 20, least: 10 });

  it('has the gaps they want, tighter or wider as the page needs it', () => {
    expect(placesOn([gapped, gapped, gapped], 160, 0)).toEqual([0, 60, 120]);
    expect(placesOn([gapped, gapped, gapped], 150, 0)).toEqual([0, 55, 110]);
    expect(placesOn([gapped, gapped, gapped], 170, 0.9)).toEqual([0, 65, 130]);
    expect(placesOn([gapped, gapped, gapped], 300, 0.9)).toEqual([0, 69, 138]);
  });

  it('widens a gap as much as it can be tightened, against the others', () => {
    const pictures = block(40, { gap: 6, least: 4 });
    expect(placesOn([gapped, pictures, gapped], 170, 2)).toEqual([0, 50, 130]);
  });

  it('never makes a gap tighter than it may be, nor lets two touch', () => {
    expect(placesOn([gapped, gapped, gapped], 100, 0)).toEqual([0, 50, 100]);
    expect(placesOn([gapped, block(40, { gap: 5 })], 200, 3)).toEqual([0, 45]);
  });
});
