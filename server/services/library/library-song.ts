import { LibraryEntries, type Key } from '#music';
import type { LibrarySong } from '../../contract/library.ts';
import type { SungDay } from '../../store/library.store.ts';
import { dateThere, isOver } from '../service-time.ts';
import type { BookSong } from './book.ts';

/** How often a song was sung, and when last. */
export interface Sung {
  /** `2026-11-22`; null: never. */
  readonly last: string | null;
  readonly times: number;
  /** Whole weeks since then; null: it was never sung. */
  readonly weeks: number | null;
}

const DAY = 86_400_000;

const dayOf = (now: Date, days: number): string =>
  new Date(now.getTime() + days * DAY).toISOString().slice(0, 10);

/** Only services whose day is over count. */
export function sungUntil(days: readonly SungDay[], now: Date): Sung {
  if (days.length === 0) return { last: null, times: 0, weeks: null };
  const [past, future] = [dayOf(now, -2), dayOf(now, 2)];
  // Only near today does it matter what the calendar shows where a service takes place.
  const over = days.filter((day) => day.date < past || (day.date < future && isOver(day, now)));
  let last: SungDay | null = null;
  for (const day of over) if (last === null || day.date > last.date) last = day;
  if (last === null) return { last: null, times: 0, weeks: null };
  const since = Date.parse(dateThere(last.zone, now)) - Date.parse(last.date);
  return { last: last.date, times: over.length, weeks: Math.floor(since / DAY / 7) };
}

/** A song as the book lists it. */
export function librarySong(
  song: BookSong,
  sung: Sung,
  found: LibrarySong['found'] = [],
  fits: Key | null = null,
): LibrarySong {
  const { id, version, entry, key } = song;
  const range = LibraryEntries.rangeIn(entry, key);
  return {
    id,
    version,
    title: entry.title,
    firstLine: entry.firstLine,
    tune: entry.tune,
    hymnMeter: entry.hymnMeter,
    key,
    meter: entry.meter,
    tempo: entry.tempo,
    low: range?.low ?? null,
    high: range?.high ?? null,
    themes: [...entry.themes],
    lastSung: sung.last,
    timesSung: sung.times,
    found,
    fits,
  };
}
