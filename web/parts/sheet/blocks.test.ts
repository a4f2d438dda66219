import { describe, expect, it } from 'vitest';
import { isInFours } from './blocks.ts';

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
