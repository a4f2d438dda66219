import { describe, expect, it } from 'vitest';
import type { HandPicture, Sheet, SheetSystem } from '#music';
import { isInFours, shapesIn, staffBlocks } from './blocks.ts';

describe('Hand pictures', () => {
  it.each([
    // A tablet and a laptop between their margins, then a tablet held upright.
    [1100, 0.75, true],
    [1100, 1.2, true],
    [1100, 1.7, false],
    [1345, 1.4, true],
    [1345, 1.7, false],
    [764, 0.75, false],
  ])('on a page %i px wide, with words of size %d, in fours: %s', (width, text, fours) => {
    expect(isInFours({ width, text })).toBe(fours);
  });
});

describe('Rows of hand pictures', () => {
  const picture: HandPicture = { chord: 'C', notes: [], fingers: [], left: { notes: [], fingers: [] }, words: '' }; // prettier-ignore
  const sheetOf = (knowsShapes: boolean, ...pictures: number[]) =>
    ({
      knowsShapes,
      systems: pictures.map((count, from) => ({ from, strip: Array<HandPicture>(count).fill(picture) }) as unknown as SheetSystem), // prettier-ignore
    }) as unknown as Sheet;
  /** `0: 0-4`, the row of a system; `0`, its line of music; `…+` goes on with what is before. */
  const said = (sheet: Sheet, width: number, shapesAway = false) =>
    staffBlocks(sheet, { width, text: 1, shapesAway }).map(
      ({ system, row, goesOn }) =>
        `${String(system.from)}${row ? `: ${row.join('-')}` : ''}${goesOn ? '+' : ''}`,
    );

  it('stand on a tablet one before the first line, the others after the last', () => {
    expect(said(sheetOf(false, 10, 0, 2), 1100)).toEqual([
      '0: 0-4+', '0', '1', '2: 0-2', '2+', '0: 4-8', '0: 8-10+',
    ]); // prettier-ignore
    expect(said(sheetOf(false, 4, 0), 1100)).toEqual(['0: 0-4+', '0+', '1']);
  });

  it('stand all before it in twos', () => {
    expect(said(sheetOf(false, 6, 0), 764)).toEqual(['0: 0-2+', '0: 2-4+', '0: 4-6+', '0', '1']);
  });

  it('are put away where the shapes are known, and counted', () => {
    const known = sheetOf(true, 10, 0, 2);
    expect(said(known, 1100, true)).toEqual(['0+', '1', '2']);
    expect(shapesIn(known)).toBe(12);
    expect(said(sheetOf(false, 3, 0), 1100, true)).toEqual(['0: 0-3+', '0+', '1']);
    expect(shapesIn(sheetOf(false, 3, 0))).toBe(0);
  });
});
