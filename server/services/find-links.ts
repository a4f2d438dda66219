import type { SetLink } from '../contract/links.ts';
import type { StoredLink } from '../store/links.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { Refusal } from './refusal.ts';

export function noSuchLink(): Refusal {
  return new Refusal('no-such-link', 'There is no such link here. Nothing was changed.');
}

function linkOf({ id, serviceId, state, marksRanges, ...row }: StoredLink): SetLink {
  return {
    id,
    service: serviceId,
    state,
    marksRanges,
    endsAt: row.endsAt.toISOString(),
    createdAt: row.createdAt.toISOString(),
    version: row.version,
  };
}

/** When and where the service of a link takes place. */
export async function requireDay(rooms: TeamRooms, serviceId: string) {
  const day = await rooms.links.dayOf(serviceId);
  if (day) return day;
  throw new Refusal(
    'no-such-service',
    'There is no such service here. It may have been deleted; deleted services can be restored from the list.',
  );
}

/** Those of a service, the oldest first. */
export async function listLinks(rooms: TeamRooms, serviceId: string): Promise<SetLink[]> {
  await requireDay(rooms, serviceId);
  return (await rooms.links.list(serviceId)).map(linkOf);
}

export async function requireLink(rooms: TeamRooms, id: string): Promise<SetLink> {
  const link = await rooms.links.find(id);
  if (!link?.served) throw noSuchLink();
  return linkOf(link);
}
