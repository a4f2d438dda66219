import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leafOf, leavesOf } from './leaves.ts';

describe('Systems on pages', () => {
  it.each([
    { heights: [100, 100, 100], room: 320, gap: 10, starts: [0] },
    // Two gaps of 10 give 6 each.
    { heights: [100, 100, 100], room: 308, gap: 10, starts: [0] },
    { heights: [100, 100, 100], room: 307, gap: 10, starts: [0, 2] },
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

  it.each([
    // It finds room as any block does.
    { begins: ['sheet', 'block', 'end'], heights: [100, 100, 80], starts: [0] },
    // Three gaps of 10 become smaller by 6 each at most: 18 of 300, which is less than 8 in a hundred.
    { begins: ['sheet', 'block', 'block', 'end'], heights: [90, 90, 60, 48], starts: [0] },
    { begins: ['sheet', 'block', 'block', 'end'], heights: [90, 90, 60, 49], starts: [0, 2] },
    // The last line goes overleaf with it, where another is left before.
    { begins: ['sheet', 'block', 'end'], heights: [150, 100, 100], starts: [0, 1] },
    { begins: ['sheet', 'end'], heights: [250, 100], starts: [0, 1] },
    { begins: ['sheet', 'block', 'end'], heights: [150, 150, 200], starts: [0, 1, 2] },
    // A verse goes whole; one that is longer than a page gives its last line.
    { begins: ['sheet', 'block', 'line', 'end'], heights: [100, 90, 90, 100], starts: [0, 1] },
    { begins: ['sheet', 'line', 'line', 'end'], heights: [100, 90, 90, 100], starts: [0, 3] },
    { begins: ['sheet', 'line', 'line', 'line', 'line', 'line', 'end'], heights: [99, 99, 99, 99, 99, 99, 99], starts: [0, 3, 5] }, // prettier-ignore
    // Its paragraphs go together, with the last line too; more than a page of them goes on overleaf.
    { begins: ['sheet', 'block', 'end', 'line'], heights: [150, 100, 60, 40], starts: [0, 1] },
    { begins: ['sheet', 'end', 'line'], heights: [150, 100, 100], starts: [0, 1] },
    { begins: ['sheet', 'end', 'line', 'line'], heights: [150, 100, 100, 150], starts: [0, 2] },
    // The next sheet begins as ever.
    { begins: ['sheet', 'block', 'end', 'sheet', 'end'], heights: [150, 100, 100, 90, 90], starts: [0, 1, 3] }, // prettier-ignore
  ] as const)('the end of a sheet, $begins of $heights on 300: pages start at $starts', (row) => {
    expect(leavesOf(row.heights, 300, 10, row.begins)).toEqual(row.starts);
  });

  it('never overfills, skips or repeats with ends of sheets, nor leaves an end alone that has room with what is before it', () => {
    const block = fc.record({
      height: fc.integer({ min: 1, max: 500 }),
      begins: fc.constantFrom(...(['sheet', 'block', 'kept', 'line', 'end'] as const)),
    });
    fc.assert(
      fc.property(fc.array(block), fc.integer({ min: 1, max: 900 }), (blocks, room) => {
        const heights = blocks.map(({ height }) => height);
        // Nothing but a sheet begins the first, or follows an end and the lines that are tied to it.
        let isEnding = false;
        const begins = blocks.map(({ begins: how }, i) => {
          const isNew = i === 0 || (isEnding && how !== 'line');
          isEnding = !isNew && (how === 'end' || isEnding);
          return isNew ? 'sheet' : how;
        });
        const starts = leavesOf(heights, room, 12, begins);
        expect(starts).toEqual([...new Set(starts)].sort((a, b) => a - b));
        expect(starts.length === 0 ? heights.length : starts[0]).toBe(0);
        starts.forEach((start, page) => {
          const to = starts[page + 1] ?? heights.length;
          const used = heights.slice(start, to).reduce((sum, height) => sum + height, 0);
          const gaps = begins.slice(start + 1, to).filter((how) => how !== 'line').length;
          const shrunk = Math.min(gaps * 7.2, 0.08 * room) + 1e-9;
          expect(to - start === 1 || used + gaps * 12 - shrunk <= room).toBe(true);
          const before = heights[start - 1] ?? 0;
          const next = begins.findIndex((how, i) => i > start && how !== 'line');
          const parts = heights.slice(start, next < 0 ? undefined : next);
          const end = parts.reduce((sum, height) => sum + height, 0);
          const alone = begins[start] === 'end' && begins[start - 1] === 'block';
          const whole = starts[page - 1] === start - 1;
          if (alone && !whole) expect(before + 12 + end).toBeGreaterThan(room);
        });
      }),
    );
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
            const shrunk = Math.min((blocks.length - 1) * 4.8, 0.08 * room) + 1e-9;
            expect(blocks.length === 1 || used - shrunk <= room).toBe(true);
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
