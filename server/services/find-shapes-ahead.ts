import { Known } from '#music';
import type { ShapesAhead } from '../contract/members.ts';
import { findPast, partsOf, playedIn } from './find-known.ts';
import type { PagesRooms } from './find-pages.ts';
import { findSongbook } from './find-plan.ts';
import { noSuchService } from './find-services.ts';
import type { Encoding, KeptAnswer } from './kept-answers.ts';
import { momentOf } from './service-time.ts';

/** The shapes of a service for one person at the keys, each with whether they have met it in a service that is over. */
export async function findShapesAhead(
  { team, teamId, kept, stamp: found }: Omit<PagesRooms, 'renderer'>,
  { service: id, member, encoding }: { service: string; member: string; encoding: Encoding },
): Promise<KeptAnswer> {
  const stamp = found ?? (await team.everyRequest.stamp());
  const now = team.surroundings.now();
  const key = JSON.stringify(['ahead', teamId, stamp, id, member, momentOf(now)]);
  return kept.answer(key, encoding, async (): Promise<ShapesAhead> => {
    const { past, service, book } = await team.together(async (rooms) => {
      const service = await rooms.services.find(id);
      if (!service) throw noSuchService();
      return {
        service,
        past: await findPast(rooms, member, now),
        book: await findSongbook(rooms, [service]),
      };
    });
    const { member: player } = past;
    const before = past.services.filter((each) => each.id !== service.id);
    const met = Known.of(await partsOf(player, playedIn({ ...past, services: before })));
    const items = playedIn({ member: player, services: [service], book });
    const parts = [];
    for (const played of items)
      for (const { part } of await partsOf(player, [played]))
        parts.push({ song: played.item.id, part });
    const shapes = Known.ahead(parts, met).map((shape) => ({
      ...shape,
      notes: [...shape.notes],
      fingers: [...shape.fingers],
      songs: [...shape.songs],
    }));
    return { member, shapes };
  });
}
