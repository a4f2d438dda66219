import { describe, expect, it } from 'vitest';
import { dateThere, instantOf, isOver, isZone, sundayFrom } from './service-time.ts';

const instant = (date: string, time: string, zone: string) =>
  instantOf({ date, time, zone }).toISOString();

describe('The instant of a time on the clocks of a place', () => {
  // RFC 5545, 3.3.5, "Form #3: DATE WITH LOCAL TIME AND TIME ZONE REFERENCE": its four examples.
  it.each([
    ['2006-10-23', '08:30', 'Europe/Athens', '2006-10-23T05:30:00.000Z', 'an ordinary day'],
    ['1998-01-19', '02:00', 'America/New_York', '1998-01-19T07:00:00.000Z', 'an ordinary night'],
    ['2007-11-04', '01:30', 'America/New_York', '2007-11-04T05:30:00.000Z', '1:30 A.M. EDT'],
    ['2007-03-11', '02:30', 'America/New_York', '2007-03-11T07:30:00.000Z', '3:30 A.M. EDT'],
  ])('%s %s in %s is %s (%s)', (date, time, zone, expected) => {
    expect(instant(date, time, zone)).toBe(expected);
  });

  // IANA tz database, rule EU: clocks go on at 1:00 UTC of the last Sunday of March, back at that of October.
  it.each([
    ['2026-03-29', '01:59', '2026-03-29T00:59:00.000Z', 'before the clocks go on'],
    ['2026-03-29', '02:30', '2026-03-29T01:30:00.000Z', 'left out by the clocks'],
    ['2026-03-29', '03:00', '2026-03-29T01:00:00.000Z', 'after they went on'],
    ['2026-03-29', '10:30', '2026-03-29T08:30:00.000Z', 'the morning after'],
    ['2026-10-25', '02:30', '2026-10-25T00:30:00.000Z', 'shown twice'],
    ['2026-10-25', '10:30', '2026-10-25T09:30:00.000Z', 'the morning after'],
  ])('%s %s in Berlin is %s: %s', (date, time, expected) => {
    expect(instant(date, time, 'Europe/Berlin')).toBe(expected);
  });

  // IANA tz database, rule LH: the clocks of Lord Howe Island move by half an hour.
  it('holds where clocks move by half an hour', () => {
    expect(instant('2026-10-04', '02:15', 'Australia/Lord_Howe')).toBe('2026-10-03T15:45:00.000Z');
    expect(instant('2026-10-04', '09:00', 'Australia/Lord_Howe')).toBe('2026-10-03T22:00:00.000Z');
  });

  // Another reading of the same clocks: ECMA-402 shows the instant there as it was asked for.
  it('is shown there as it was asked for, every hour of a year but the one left out', () => {
    for (const zone of ['Europe/Berlin', 'America/St_Johns', 'Asia/Kathmandu', 'Pacific/Apia']) {
      const show = new Intl.DateTimeFormat('sv-SE', {
        timeZone: zone,
        dateStyle: 'short',
        timeStyle: 'short',
      });
      let different = 0;
      for (let day = 0; day < 365; day += 1) {
        const date = new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10);
        for (let hour = 0; hour < 24; hour += 1) {
          const time = `${String(hour).padStart(2, '0')}:30`;
          if (show.format(instantOf({ date, time, zone })) !== `${date} ${time}`) different += 1;
        }
      }
      expect(different, zone).toBeLessThanOrEqual(1);
    }
  });
});

describe('A service is over', () => {
  const service = { date: '2026-11-29', zone: 'Pacific/Auckland' };

  it('when its calendar day has passed where it takes place, and not before', () => {
    // Auckland is 13 hours ahead of UTC in its summer.
    expect(isOver(service, new Date('2026-11-29T10:59:59Z'))).toBe(false);
    expect(isOver(service, new Date('2026-11-29T11:00:00Z'))).toBe(true);
    expect(dateThere('Pacific/Auckland', new Date('2026-11-29T11:00:00Z'))).toBe('2026-11-30');
    expect(dateThere('America/Los_Angeles', new Date('2026-11-29T07:59:00Z'))).toBe('2026-11-28');
  });
});

describe('A zone', () => {
  it.each(['Europe/Berlin', 'UTC', 'America/Argentina/Buenos_Aires'])('is %s', (zone) => {
    expect(isZone(zone)).toBe(true);
  });
  it.each(['Europe/Atlantis', '+02:00', '', 'Berlin', '../etc'])('is not “%s”', (zone) => {
    expect(isZone(zone)).toBe(false);
  });
});

describe('The Sundays round a day', () => {
  // ISO 8601: 2026-11-29 is day 7 of week 48 (2026-W48-7).
  it.each([
    ['on the Wednesday before', '2026-11-25T12:00:00Z', '2026-11-22', '2026-11-29', '2026-12-06'],
    ['on the Saturday', '2026-11-28T12:00:00Z', '2026-11-22', '2026-11-29', '2026-12-06'],
    ['on the Sunday itself', '2026-11-29T08:00:00Z', '2026-11-22', '2026-12-06', '2026-12-13'],
    ['on the Monday', '2026-11-30T12:00:00Z', '2026-11-29', '2026-12-06', '2026-12-13'],
  ])('%s', (_, now, last, next, afterNext) => {
    const sundays = [-1, 1, 2].map((weeks) => sundayFrom('Europe/Berlin', new Date(now), weeks));
    expect(sundays).toEqual([last, next, afterNext]);
  });

  it('go by the calendar of the place', () => {
    // Saturday noon in London is Sunday in Auckland.
    const now = new Date('2026-11-28T12:00:00Z');
    expect(sundayFrom('Europe/London', now, 1)).toBe('2026-11-29');
    expect(sundayFrom('Pacific/Auckland', now, 1)).toBe('2026-12-06');
  });
});
