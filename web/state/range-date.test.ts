import { describe, expect, it } from 'vitest';
import { rangeDate } from './range-date.ts';

const now = new Date(2027, 2, 3, 12);

describe('What stands beside a range', () => {
  it('is the day it was marked, always with its year', () => {
    const marked = new Date(2027, 0, 5, 12).toISOString();
    expect(rangeDate(marked, false, now)).toEqual({ date: '5 January 2027', why: null });
    expect(rangeDate(null, false, now)).toEqual({ date: null, why: null });
  });

  it('is why to ask again once it is old: a year, or half a year for a child, and whose number that is', () => {
    const year = new Date(2026, 2, 3, 12).toISOString();
    const half = new Date(2026, 8, 3, 12).toISOString();
    expect(rangeDate(year, false, now).why).toMatch(/a year \(our number\)/);
    expect(rangeDate(half, false, now).why).toBeNull();
    expect(rangeDate(half, true, now).why).toMatch(/six \(our number\)/);
  });
});
