import { tzOffset } from '@date-fns/tz';

/** When a service takes place: on the clocks of its zone (IANA). */
export interface ServiceTime {
  /** `2026-11-29` */
  readonly date: string;
  /** `10:30` */
  readonly time: string;
  readonly zone: string;
}

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** Whether clocks are known there. An offset such as `+02:00` is no place: it knows no summer time. */
export function isZone(zone: string): boolean {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    return new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** How far the clocks there are ahead of UTC, in ms. */
function ahead(zone: string, instant: number): number {
  return tzOffset(zone, new Date(instant)) * MINUTE;
}

/**
 * The instant at which the clocks there show it. An hour that the clocks leave out is counted with the offset before
 * the change, and of an hour that they show twice the first is meant (RFC 5545, 3.3.5, "Form #3").
 */
export function instantOf({ date, time, zone }: ServiceTime): Date {
  const shown = Date.parse(`${date}T${time}:00Z`);
  const before = ahead(zone, shown - DAY);
  const after = ahead(zone, shown + DAY);
  const offset =
    ahead(zone, shown - before) !== before && ahead(zone, shown - after) === after ? after : before;
  return new Date(shown - offset);
}

/** The date on the calendars there: `2026-11-29`. */
export function dateThere(zone: string, instant: Date): string {
  const at = instant.getTime();
  return new Date(at + ahead(zone, at)).toISOString().slice(0, 10);
}

/** Its day has passed, where it takes place. */
export function isOver({ date, zone }: Pick<ServiceTime, 'date' | 'zone'>, now: Date): boolean {
  return dateThere(zone, now) > date;
}

/**
 * A Sunday by the calendar there: 1 is the next after today, -1 the last before it; today itself is none of them.
 * @param weeks not 0
 */
export function sundayFrom(zone: string, now: Date, weeks: number): string {
  const day = new Date(`${dateThere(zone, now)}T00:00:00Z`);
  const since = day.getUTCDay();
  const days = weeks > 0 ? 7 * weeks - since : 7 * weeks + ((7 - since) % 7);
  day.setUTCDate(day.getUTCDate() + days);
  return day.toISOString().slice(0, 10);
}

/** Days begin on a quarter of an hour of UTC in every zone, so what is over is the same until the next. */
const QUARTER_HOUR = 15 * 60_000;

/** The number of the quarter of an hour. */
export function momentOf(now: Date): number {
  return Math.floor(now.getTime() / QUARTER_HOUR);
}
