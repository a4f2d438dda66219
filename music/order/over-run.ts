import { listed } from '../score/number-words.ts';
import { sayMinutes } from './lengths.ts';

const DAY = 24 * 60;

const minuteOf = (clock: string): number => {
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  return hours * 60 + minutes;
};

/** Whole minutes from one time to the next one of that name: `23:30` to `00:15` is 45, `10:30` to `10:30` a day. */
export function minutesBetween(from: string, until: string): number {
  return ((minuteOf(until) - minuteOf(from) + DAY - 1) % DAY) + 1;
}

/**
 * What a service takes longer than it may, where it does; empty: it ends in time, as far as is known. A length that is
 * not known counts nothing, so that what is said is the least.
 * @param begins on the clocks there, `10:30`
 * @param until when it has to end, on the same clocks; null: whenever it ends
 * @param minutes of each item; null: not known
 * @returns `6 minutes over: it has to end at 11:30`
 */
export function sayOver(
  begins: string,
  until: string | null,
  minutes: readonly (number | null)[],
): string {
  if (until === null) return '';
  const known = minutes.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  const over = known - minutesBetween(begins, until);
  if (over <= 0) return '';
  const least = minutes.includes(null) ? 'at least ' : '';
  return `${least}${sayMinutes(over)} over: it has to end at ${until}`;
}

/** What would bring it back within its time, longest first: `“Sermon” (20 minutes)`. At most three. */
export function sayLongest(
  items: readonly { readonly name: string; readonly minutes: number | null }[],
): string {
  const known = items.filter((item): item is { name: string; minutes: number } => !!item.minutes);
  const longest = known.toSorted((a, b) => b.minutes - a.minutes).slice(0, 3);
  return listed(longest.map(({ name, minutes }) => `${name} (${sayMinutes(minutes)})`));
}
