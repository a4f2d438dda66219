import type { MadeSetLink, NewSetLink } from '../contract/links.ts';
import type { TeamStore } from '../store/store.ts';
import { requireDay, requireLink } from './find-links.ts';
import { usualEnd } from './link-end.ts';
import { hashOf, newSecret } from './secrets.ts';

const DAY = 86_400_000;

/** The secret is said this once; what is kept is its hash. */
export async function makeLink(
  store: TeamStore,
  serviceId: string,
  { marksRanges = false, endsAt }: NewSetLink,
): Promise<MadeSetLink> {
  const secret = newSecret();
  return store.together(async (rooms) => {
    const day = await requireDay(rooms, serviceId);
    // A link to a service that is over is made to be opened, too: for a day.
    const least = rooms.surroundings.now().getTime() + DAY;
    const usual = new Date(Math.max(usualEnd(day).getTime(), least));
    const id = await rooms.links.add(serviceId, hashOf(secret), {
      marksRanges,
      endsAt: endsAt === undefined ? usual : new Date(endsAt),
    });
    // A fragment is not sent to any server, so it is in no log and no Referer (RFC 9110, 7.1 and 10.1.3).
    return { link: await requireLink(rooms, id), secret, path: `/s/${id}#${secret}` };
  });
}
