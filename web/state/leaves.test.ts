import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leafOf, leavesOf } from './leaves.ts';

describe('Systems on pages', () => {
  it.each([
    { heights: [100, 100, 100], room: 320, gap: 10, starts: [0] },
    { heights: [100, 100, 100], room: 319, gap: 10, starts: [0, 2] },
    { heights: [500, 100], room: 320, gap: 10, starts: [0, 1] },
    { heights: [], room: 320, gap: 10, starts: [] },
  ])('lays $heights in $room with $gap between: pages start at $starts', (row) => {
    expect(leavesOf(row.heights, row.room, row.gap)).toEqual(row.starts);
  });

  it.each([
    { begins: ['sheet', 'block', 'sheet'], heights: [90, 90, 90], starts: [0, 2] },
    { begins: ['sheet', 'line', 'line'], heights: [100, 100, 100], starts: [0] },
    { begins: ['sheet', 'kept', 'line'], heights: [100, 100, 100], starts: [0, 2] },
    { begins: ['sheet', 'block', 'kept'], heights: [100, 100, 95], starts: [0, 1] },
    { begins: ['sheet', 'block', 'line'], heights: [150, 100, 100], starts: [0, 1] },
    { begins: ['sheet', 'block', 'line', 'line'], heights: [150, 150, 150, 50], starts: [0, 1, 3] },
  ] as const)('$begins of $heights on 300: pages start at $starts', (row) => {
    expect(leavesOf(row.heights, 300, 10, row.begins)).toEqual(row.starts);
  });

  it('never overfills a page that holds more than one block, and never leaves a block out', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 900 })),
        fc.integer({ min: 1, max: 1200 }),
        (heights, room) => {
          const starts = leavesOf(heights, room, 8);
          starts.forEach((start, page) => {
            const blocks = heights.slice(start, starts[page + 1] ?? heights.length);
            const used = blocks.reduce((sum, height) => sum + height + 8, -8);
            expect(blocks.length === 1 || used <= room).toBe(true);
          });
          expect(starts.length === 0 ? heights.length : starts[0]).toBe(0);
        },
      ),
    );
  });

  it('finds the page of a block again after the pages have changed', () => {
    expect(leafOf([0, 2, 5], 4)).toBe(1);
    expect(leafOf([0, 2, 5], 5)).toBe(2);
  });
});
