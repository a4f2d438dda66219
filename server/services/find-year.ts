import type { SongYear } from '../contract/year.ts';
import type { TeamRooms } from '../store/store.ts';
import { arrangementOf, findSongbook, leadIn } from './find-plan.ts';
import { dateThere } from './service-time.ts';

const DAYS = 52 * 7;

function daysBefore(day: string, days: number): string {
  const date = new Date(`${day}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() - days);
  return date.toISOString().slice(0, 10);
}

type Sung = SongYear['songs'][number]['sung'][number];

/**
 * Which songs stood in the services of the 52 weeks that end with a day, in which key and led by whom: as the order says
 * now, where nothing is named by what is usual. Songs that were deleted since are left out. The longest rested first, of
 * equals by title.
 * @param until missing: today
 */
export async function findYear(rooms: TeamRooms, until?: string): Promise<SongYear> {
  const last = until ?? dateThere('UTC', rooms.surroundings.now());
  const from = daysBefore(last, DAYS - 1);
  const services = await rooms.services.between(from, last);
  const book = await findSongbook(rooms, services);
  const bySong = new Map<string, Sung[]>();
  for (const service of services) {
    const seen = new Set<string>();
    for (const item of service.items) {
      const song = item.song === null ? undefined : book.songs.get(item.song);
      if (!song || item.song === null || seen.has(item.song)) continue;
      // Twice in one service is once in the year.
      seen.add(item.song);
      const lead = book.members.get(leadIn(service, item, book) ?? '');
      const sung: Sung = {
        service: service.id,
        title: service.title,
        date: service.date,
        key: arrangementOf(item, song).key,
        lead: lead ? { id: lead.id, name: lead.name } : null,
      };
      bySong.set(item.song, [...(bySong.get(item.song) ?? []), sung]);
    }
  }
  const songs = [...bySong].map(([id, sung]) => ({
    id,
    title: book.songs.get(id)?.title ?? '',
    sung,
  }));
  const latest = ({ sung }: { readonly sung: readonly Sung[] }) => sung[0]?.date ?? '';
  songs.sort((a, b) => latest(a).localeCompare(latest(b)) || a.title.localeCompare(b.title));
  return { from, until: last, songs };
}
