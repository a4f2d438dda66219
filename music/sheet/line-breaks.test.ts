import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseBreaks, lineCost, type BarForBreaking } from './line-breaks.ts';

const bar = (width: number, more: Partial<BarForBreaking> = {}): BarForBreaking => ({
  width,
  phraseEnd: 0,
  partial: false,
  ends: false,
  ...more,
});
const times = (count: number, each: BarForBreaking) => Array.from({ length: count }, () => each);

/** Phrases of four bars. */
const phrases = (count: number, each: BarForBreaking) =>
  times(count, each).flatMap(() => [each, each, each, { ...each, phraseEnd: 1 }]);

describe('line breaks', () => {
  it.each([
    ['sixteen even bars, four fit: four lines of four', times(16, bar(200)), [4, 8, 12]],
    ['six would fit: still four, so that a line is a phrase', phrases(4, bar(140)), [4, 8, 12]],
    ['only three fit', times(9, bar(300)), [3, 6]],
    ['a pickup is not counted', [bar(80, { partial: true }), ...times(8, bar(200))], [5]],
    [
      'a bar wider than the line has a line of its own',
      [bar(200), bar(1500), bar(200), bar(200)],
      [1, 2],
    ],
    [
      'a line ends with its section',
      [...times(2, bar(200)), bar(200, { ends: true }), ...times(4, bar(200))],
      [3],
    ],
    [
      'a phrase of three bars keeps its line',
      [
        bar(250),
        bar(250),
        bar(250, { phraseEnd: 1 }),
        bar(250),
        bar(250),
        bar(250, { phraseEnd: 1 }),
      ],
      [3],
    ],
    ['nothing', [], []],
  ] as const)('%s', (_, bars, breaks) => {
    expect(chooseBreaks(bars, 1000, 1000)).toEqual(breaks);
  });

  it('are the best there are: against every way to break up to nine bars', () => {
    const any = fc.record({
      width: fc.integer({ min: 80, max: 700 }),
      phraseEnd: fc.constantFrom(0, 0.5, 1),
      partial: fc.boolean(),
      ends: fc.constant(false),
    });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 9 }), (bars) => {
        const costOf = (breaks: readonly number[]): number => {
          const starts = [0, ...breaks];
          return starts.reduce((sum, from, i) => {
            const to = (starts[i + 1] ?? bars.length) - 1;
            return sum + lineCost(bars, from, to, from === 0 ? 900 : 1000);
          }, 0);
        };
        let best = Infinity;
        for (let mask = 0; mask < 2 ** (bars.length - 1); mask++) {
          best = Math.min(
            best,
            costOf(
              bars
                .map((_, i) => i)
                .slice(1)
                .filter((i) => mask & (1 << (i - 1))),
            ),
          );
        }
        expect(costOf(chooseBreaks(bars, 900, 1000))).toBeCloseTo(best, 9);
      }),
      { numRuns: 200, seed: 4 },
    );
  });
});
