import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Begins } from './leaves.ts';
import { Stand, type StandBlock } from './stand.svelte.ts';

interface Laid {
  readonly blocks: readonly StandBlock[];
  readonly heights: readonly number[];
}

/** Sheets with a heading and lines at rising places, as they are laid for one size of words. */
const laid = (sheets: readonly (readonly [at: number, height: number, Begins][])[]): Laid => {
  const lines = sheets.flatMap((own, sheet) => {
    const head = [-1, 80, 'sheet'] as const;
    const rising = [head, ...new Map(own.map((line) => [line[0], line])).values()].sort(
      ([a], [b]) => a - b,
    );
    return rising.map(([at, height, begins], index) => ({
      block: { begins: index === 0 ? 'sheet' : begins, sheet: `sheet ${sheet}`, at } as const,
      height,
    }));
  });
  return { blocks: lines.map(({ block }) => block), heights: lines.map(({ height }) => height) };
};

const line = fc.tuple(
  fc.integer({ min: 0, max: 60 }),
  fc.integer({ min: 1, max: 500 }),
  fc.constantFrom<Begins>('block', 'block', 'kept', 'line', 'end'),
);
/** The same three songs, broken into lines in whatever way. */
const songs = fc
  .tuple(...[0, 1, 2].map(() => fc.array(line, { minLength: 1, maxLength: 9 })))
  .map(laid);
const room = fc.integer({ min: 1, max: 1200 });
const gap = fc.integer({ min: 0, max: 40 });

type Doing =
  | { readonly kind: 'turn'; readonly by: 1 | -1 }
  | { readonly kind: 'open'; readonly sheet: number }
  | { readonly kind: 'resize'; readonly room: number; readonly gap: number }
  | { readonly kind: 'lay'; readonly laid: Laid };

const doing: fc.Arbitrary<Doing> = fc.oneof(
  fc.record({ kind: fc.constant('turn' as const), by: fc.constantFrom(1 as const, -1 as const) }),
  fc.record({ kind: fc.constant('open' as const), sheet: fc.integer({ min: 0, max: 2 }) }),
  fc.record({ kind: fc.constant('resize' as const), room, gap }),
  fc.record({ kind: fc.constant('lay' as const), laid: songs }),
);

function put(stand: Stand, { blocks, heights }: Laid): void {
  stand.lay(blocks);
  heights.forEach((height, index) => stand.measured(index, height));
}

function begun(first: Laid, high: number, apart: number): Stand {
  const stand = new Stand();
  [stand.room, stand.gap] = [high, apart];
  put(stand, first);
  return stand;
}

const shown = (stand: Stand): number[] =>
  stand.blocks.flatMap((_, index) => (stand.shows(index) ? [index] : []));

/** What is seen from where one is to the last page, page by page. */
function onwards(stand: Stand, by: 1 | -1): number[][] {
  const pages = [shown(stand)];
  for (let before = -1; before !== stand.page; pages.push(shown(stand))) {
    before = stand.page;
    stand.turn(by);
  }
  // The last turn found no further page.
  pages.pop();
  return pages;
}

/** The line that goes on from a place: the last that begins there or before. */
const lineAt = (blocks: readonly StandBlock[], { sheet, at }: StandBlock): number =>
  Math.max(
    blocks.findIndex((block) => block.sheet === sheet),
    blocks.findLastIndex((block) => block.sheet === sheet && block.at <= at),
  );

function act(stand: Stand, what: Doing): void {
  if (what.kind === 'turn') stand.turn(what.by);
  else if (what.kind === 'open') stand.open(what.sheet);
  else if (what.kind === 'lay') put(stand, what.laid);
  else [stand.room, stand.gap] = [what.room, what.gap];
}

describe('A turn never skips or repeats a line, whatever was done before', () => {
  it('on from the first page to the last, and back', () => {
    fc.assert(
      fc.property(
        songs,
        room,
        gap,
        fc.array(doing, { maxLength: 12 }),
        (first, high, apart, all) => {
          const stand = begun(first, high, apart);
          for (const what of all) act(stand, what);
          stand.turn(-stand.count);
          const every = stand.blocks.map((_, index) => index);
          const pages = onwards(stand, 1);
          expect(pages.flat()).toEqual(every);
          expect(pages.every((page) => page.length > 0)).toBe(true);
          expect(onwards(stand, -1).reverse()).toEqual(pages);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('and where one is stays on the open page when it is laid anew, however often', () => {
    fc.assert(
      fc.property(
        songs,
        room,
        gap,
        fc.array(doing, { maxLength: 20 }),
        (first, high, apart, all) => {
          const stand = begun(first, high, apart);
          let place = stand.blocks[0] as StandBlock;
          for (const what of all) {
            const pageBefore = stand.page;
            act(stand, what);
            expect(stand.page).toBeGreaterThanOrEqual(0);
            expect(stand.page).toBeLessThan(stand.count);
            if (what.kind === 'turn' || what.kind === 'open') {
              const moved = stand.page !== pageBefore;
              if (what.kind === 'turn' && moved) expect(stand.page).toBe(pageBefore + what.by);
              if (moved) place = stand.blocks[stand.first] as StandBlock;
            }
            expect(shown(stand)).toContain(lineAt(stand.blocks, place));
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  it('and the same size again shows the same page again', () => {
    fc.assert(
      fc.property(songs, songs, room, gap, fc.nat(20), (one, other, high, apart, turns) => {
        const stand = begun(one, high, apart);
        for (let turn = 0; turn < turns; turn += 1) stand.turn(1);
        const before = shown(stand);
        for (const next of [other, one, other, one]) put(stand, next);
        expect(shown(stand)).toEqual(before);
      }),
    );
  });
});
