import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minutesBetween, sayLongest, sayOver } from './over-run.ts';

describe('over-run', () => {
  it('is said where what is known is longer than there is time', () => {
    expect(sayOver('10:30', '11:30', [20, 40, 6])).toBe('6 minutes over: it has to end at 11:30');
    expect(sayOver('10:30', '11:30', [20, null, 45])).toBe(
      'at least 5 minutes over: it has to end at 11:30',
    );
    expect(sayOver('23:30', '00:15', [30, 80])).toBe(
      '1 hour 5 minutes over: it has to end at 00:15',
    );
  });

  it('is not said where there is none, or nobody named an end', () => {
    expect(sayOver('10:30', '11:30', [20, 40])).toBe('');
    expect(sayOver('10:30', '11:30', [null, 59])).toBe('');
    expect(sayOver('10:30', null, [500])).toBe('');
  });

  it('counts minutes as a clock that is moved on minute by minute does', () => {
    const clock = fc.tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 }));
    const two = (figure: number) => String(figure).padStart(2, '0');
    const say = ([hours, minutes]: readonly [number, number]) => `${two(hours)}:${two(minutes)}`;
    fc.assert(
      fc.property(clock, clock, (from, until) => {
        let [[hours, minutes], count] = [from, 0];
        do {
          minutes = (minutes + 1) % 60;
          if (minutes === 0) hours = (hours + 1) % 24;
          count += 1;
        } while (say([hours, minutes]) !== say(until));
        expect(minutesBetween(say(from), say(until))).toBe(count);
      }),
    );
  });

  it('names the longest items', () => {
    const items = [
      { name: '“Welcome”', minutes: 3 },
      { name: 'the talk', minutes: 20 },
      { name: 'the prayer', minutes: null },
      { name: '“Old Hundredth”', minutes: 4 },
      { name: 'the reading', minutes: 5 },
    ];
    expect(sayLongest(items)).toBe(
      'the talk (20 minutes), the reading (5 minutes) and “Old Hundredth” (4 minutes)',
    );
  });
});
