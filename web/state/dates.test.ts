import { describe, expect, it } from 'vitest';
import {
  addDays,
  sayDate,
  sayDay,
  sayEnd,
  sayNear,
  sayZone,
  sundayAfter,
  today,
  zoneHere,
  zonesToOffer,
} from './dates.ts';

describe('A day', () => {
  it.each([
    // By the calendar of 2026 and 2027: 29 November 2026 is the first Sunday of Advent.
    ['2026-11-25', '2026-11-29'],
    ['2026-11-28', '2026-11-29'],
    ['2026-11-29', '2026-12-06'],
    ['2026-12-31', '2027-01-03'],
  ])('after %s the next Sunday is %s', (day, sunday) => {
    expect(sundayAfter(day)).toBe(sunday);
  });

  it.each([
    ['2026-11-29', 7, '2026-12-06'],
    ['2027-02-26', 7, '2027-03-05'],
    ['2028-02-26', 7, '2028-03-04'],
    // Clocks go back on 25 October 2026 in Europe: a week is a week.
    ['2026-10-24', 7, '2026-10-31'],
    ['2026-03-01', -1, '2026-02-28'],
  ])('%s and %i days are %s', (day, days, then) => {
    expect(addDays(day, days)).toBe(then);
  });

  it('is said as people say it, with the year where it is another', () => {
    expect(sayDate('2026-11-29')).toBe('Sunday, 29 November 2026');
    expect(sayDay('2026-11-29', '2026-11-25')).toBe('29 November');
    expect(sayDay('2027-01-03', '2026-11-25')).toBe('3 January 2027');
    expect(sayNear('2026-11-29', '2026-11-25')).toBe('in 4 days');
    expect(sayNear('2026-11-25', '2026-11-25')).toBe('today');
    expect(sayNear('2026-12-29', '2026-11-25')).toBe('');
  });

  it('ends at midnight, which is said as the end of it', () => {
    const midnight = new Date(2026, 11, 1, 0, 0).toISOString();
    expect(sayEnd(midnight)).toBe('the end of Monday, 30 November 2026');
    const noon = new Date(2026, 11, 1, 12, 0).toISOString();
    expect(sayEnd(noon)).toBe('Tuesday, 1 December 2026, 12:00');
  });

  it('is the one of the clocks here, late at night too', () => {
    expect(today(new Date(2026, 10, 25, 23, 59))).toBe('2026-11-25');
    expect(today(new Date(2026, 10, 26, 0, 1))).toBe('2026-11-26');
  });
});

describe('The time zones to choose from', () => {
  it('are those of the world, this one and the one that is chosen, each once and by name', () => {
    // Names of the IANA time zone database; the last is another name of Asia/Kolkata or the other way round.
    const zones = zonesToOffer('Asia/Calcutta');
    for (const zone of ['Europe/Berlin', 'America/New_York', zoneHere(), 'Asia/Calcutta'])
      expect(zones.filter((each) => each === zone)).toEqual([zone]);
    expect(zones).toEqual(zones.toSorted());
    expect(zonesToOffer('UTC')).toContain('UTC');
    expect(sayZone('America/New_York')).toBe('America/New York');
  });
});
