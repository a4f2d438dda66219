/** Calendar days as `2026-11-29`, and what people say for them. No time zone is asked: a day is a day there. */

const utc = (day: string): Date => new Date(`${day}T00:00:00Z`);
const dayOf = (date: Date): string => date.toISOString().slice(0, 10);

export function addDays(day: string, days: number): string {
  const date = utc(day);
  date.setUTCDate(date.getUTCDate() + days);
  return dayOf(date);
}

/** The day where this device is. */
export function today(now: Date = new Date()): string {
  return dayOf(new Date(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate())));
}

/** The Sunday after a day; on a Sunday, that of the week after. */
export function sundayAfter(day: string): string {
  return addDays(day, 7 - utc(day).getUTCDay());
}

const part = (day: string, options: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat('en-GB', { ...options, timeZone: 'UTC' }).format(utc(day));

/** `Sunday`. */
export function sayWeekday(day: string): string {
  return part(day, { weekday: 'long' });
}

/** `29 November`; in another year than `from`: `3 January 2027`. */
export function sayDay(day: string, from: string): string {
  const year = day.slice(0, 4) === from.slice(0, 4) ? '' : ` ${day.slice(0, 4)}`;
  return `${part(day, { day: 'numeric', month: 'long' })}${year}`;
}

/** `Sunday, 29 November 2026`. */
export function sayDate(day: string): string {
  return `${sayWeekday(day)}, ${part(day, { day: 'numeric', month: 'long', year: 'numeric' })}`;
}

/** An instant as the clocks of this device have it: `Monday, 30 November 2026, 23:59`. */
export function sayInstant(instant: string): string {
  const date = new Date(instant);
  const time = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });
  return `${sayDate(today(date))}, ${time.format(date)}`;
}

/** When something ends: `the end of Monday, 30 November 2026` where it is midnight here, else as `sayInstant`. */
export function sayEnd(instant: string): string {
  const before = new Date(Date.parse(instant) - 1000);
  const midnight = new Date(instant).getHours() === 0 && new Date(instant).getMinutes() === 0;
  return midnight ? `the end of ${sayDate(today(before))}` : sayInstant(instant);
}

/** `today`, `tomorrow`, `in five days`, `a week ago`: near days as people say them; empty where it is far. */
export function sayNear(day: string, from: string): string {
  const days = Math.round((utc(day).getTime() - utc(from).getTime()) / 86_400_000);
  const near: Readonly<Record<number, string>> = {
    [-7]: 'a week ago',
    [-1]: 'yesterday',
    0: 'today',
    1: 'tomorrow',
    7: 'in a week',
  };
  if (near[days] !== undefined) return near[days];
  return days > 1 && days < 7 ? `in ${days} days` : '';
}

/** The zone of this device: `Europe/Berlin`. */
export function zoneHere(): string {
  return new Intl.DateTimeFormat().resolvedOptions().timeZone;
}

/**
 * IANA time zones to choose from, by name: those that this device knows (ECMA-402, Intl.supportedValuesOf, which
 * leaves out other names of the same zone), its own, and the one that is chosen, whatever it is called.
 */
export function zonesToOffer(chosen: string): string[] {
  return [...new Set([...Intl.supportedValuesOf('timeZone'), zoneHere(), chosen])].sort();
}

/** `America/New York`. */
export function sayZone(zone: string): string {
  return zone.replaceAll('_', ' ');
}
