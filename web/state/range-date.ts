import { RangeAge } from '#music';
import { sayDay, today } from './dates.ts';

/** What stands beside a range: the day it was marked, and why to ask again; null: no day was noted, it is not old. */
export interface RangeDateWords {
  readonly date: string | null;
  readonly why: string | null;
}

/** @param markedAt an instant; null: nobody noted it */
export function rangeDate(
  markedAt: string | null,
  child: boolean,
  now: Date = new Date(),
): RangeDateWords {
  if (markedAt === null) return { date: null, why: null };
  const day = today(new Date(markedAt));
  const isOld = RangeAge.isOld(day, today(now), child);
  return { date: sayDay(day, ''), why: isOld ? RangeAge.why(child) : null };
}
