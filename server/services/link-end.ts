import type { TeamRooms } from '../store/store.ts';
import { instantOf, type ServiceTime } from './service-time.ts';

type Day = Pick<ServiceTime, 'date' | 'zone'>;

/** The end of the day after the service, where it takes place: the first instant of the day after that. */
export function usualEnd({ date, zone }: Day): Date {
  const dayAfterNext = new Date(`${date}T00:00:00Z`);
  dayAfterNext.setUTCDate(dayAfterNext.getUTCDate() + 2);
  return instantOf({ date: dayAfterNext.toISOString().slice(0, 10), time: '00:00', zone });
}

/**
 * A service that moves to another day takes along those of its links that end by themselves. An end that somebody
 * chose stays, unless it is the very same instant.
 */
export async function moveUsualEnds(
  rooms: TeamRooms,
  serviceId: string,
  before: Day,
  after: Day,
): Promise<void> {
  const [from, to] = [usualEnd(before), usualEnd(after)];
  if (from.getTime() !== to.getTime()) await rooms.links.moveEnds(serviceId, from, to);
}
