import type { Service, ServiceListItem } from '../contract/services.ts';
import type { Presence } from '../store/scope.ts';
import type { ServiceHeading, StoredService } from '../store/services.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { Refusal } from './refusal.ts';
import { instantOf, isOver } from './service-time.ts';

export function noSuchService(): Refusal {
  return new Refusal(
    'no-such-service',
    'There is no such service here. It may have been deleted; deleted services can be restored from the list.',
  );
}

const timesOf = (service: ServiceHeading | StoredService) => ({
  startsAt: instantOf(service).toISOString(),
  deletedAt: service.deletedAt?.toISOString() ?? null,
});

function serviceOf(stored: StoredService): Service {
  const { items, people } = stored;
  return {
    ...stored,
    ...timesOf(stored),
    items: items.map((item) => ({
      ...item,
      form: item.form && [...item.form],
      playedIn: { ...item.playedIn },
      rungs: { ...item.rungs },
    })),
    people: people.map((person) => ({ ...person, roles: [...person.roles] })),
  };
}

/** By date, the earliest first. */
export async function listServices(rooms: TeamRooms, which: Presence): Promise<ServiceListItem[]> {
  const now = rooms.surroundings.now();
  const headings = await rooms.services.list(which);
  return headings.map((heading) => ({
    ...heading,
    ...timesOf(heading),
    over: isOver(heading, now),
    songs: [...heading.songs],
  }));
}

export async function requireService(rooms: TeamRooms, id: string): Promise<Service> {
  const service = await rooms.services.find(id);
  if (!service) throw noSuchService();
  return serviceOf(service);
}
