import { describe, expect, it } from 'vitest';
import { isOld, monthsBetween } from './range-age.ts';

describe('The age of a range', () => {
  it.each([
    ['2026-03-03', '2026-03-03', 0],
    ['2026-03-03', '2026-04-02', 0],
    ['2026-03-03', '2026-04-03', 1],
    ['2025-11-30', '2026-11-29', 11],
    ['2025-11-30', '2026-11-30', 12],
    ['2024-02-29', '2025-03-01', 12],
    ['2026-12-31', '2027-01-01', 0],
  ])('from %s to %s is %i whole months', (from, to, months) => {
    expect(monthsBetween(from, to)).toBe(months);
  });

  it('is old after a year, a child’s after half a year', () => {
    expect(isOld('2025-03-03', '2026-03-02', false)).toBe(false);
    expect(isOld('2025-03-03', '2026-03-03', false)).toBe(true);
    expect(isOld('2026-03-03', '2026-09-02', true)).toBe(false);
    expect(isOld('2026-03-03', '2026-09-03', true)).toBe(true);
  });
});
