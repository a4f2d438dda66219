import type { NewServiceRead, Service, ServiceChangeRead } from '../contract/services.ts';
import type { ServiceFacts, StoredPerson, StoredService } from '../store/services.store.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { checkService } from './check-service.ts';
import { noSuchService, requireService } from './find-services.ts';
import { moveUsualEnds } from './link-end.ts';
import { leadsIn, withLeads } from './pass-leads.ts';
import { staleVersion } from './stale-version.ts';

/** When most services of the week begin, until a team says otherwise. */
const USUAL_TIME = '10:30';

/** `Sunday service` */
function usualTitle(date: string): string {
  const day = new Intl.DateTimeFormat('en', { weekday: 'long', timeZone: 'UTC' });
  return `${day.format(new Date(`${date}T00:00:00Z`))} service`;
}

/** The order and the people of a service, to begin another with: lines of their own, no voices, nobody who left. */
async function beginningFrom(rooms: TeamRooms, id: string): Promise<Omit<StoredService, 'id'>> {
  const from = await rooms.services.find(id);
  if (!from) throw noSuchService();
  const named = [
    ...from.people.map(({ member }) => member),
    ...from.items.flatMap(({ lead, form, playedIn, rungs }) => [
      ...(lead === null ? [] : [lead]),
      ...leadsIn('form', form).map(({ member }) => member),
      ...Object.keys(playedIn),
      ...Object.keys(rungs),
    ]),
  ];
  const there = new Set((await rooms.members.findAll([...new Set(named)])).map((each) => each.id));
  const ifThere = (id: string | null): string | null => (id !== null && there.has(id) ? id : null);
  const ofThose = <T>(by: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(Object.entries(by).filter(([member]) => there.has(member)));
  return {
    ...from,
    items: from.items.map((item) => ({
      ...item,
      id: rooms.surroundings.newId(),
      lead: ifThere(item.lead),
      form: item.form && withLeads(item.form, ifThere),
      playedIn: ofThose(item.playedIn),
      rungs: ofThose(item.rungs),
    })),
    people: from.people
      .filter(({ member }) => there.has(member))
      .map((person) => ({ ...person, voice: null })),
  };
}

/** A role once. */
const tidied = (people: readonly StoredPerson[]): StoredPerson[] =>
  people.map((person) => ({ ...person, roles: [...new Set(person.roles)] }));

export async function addService(store: TeamStore, input: NewServiceRead): Promise<Service> {
  return store.together(async (rooms) => {
    const from = input.from === undefined ? null : await beginningFrom(rooms, input.from);
    const facts: ServiceFacts = {
      title: input.title ?? from?.title ?? usualTitle(input.date),
      date: input.date,
      time: input.time ?? from?.time ?? USUAL_TIME,
      until: input.until === undefined ? (from?.until ?? null) : input.until,
      zone: input.zone ?? from?.zone ?? (await rooms.services.lastZone()) ?? 'UTC',
      place: input.place ?? from?.place ?? '',
      items: input.items ?? from?.items ?? [],
      people: tidied(input.people ?? from?.people ?? []),
    };
    await checkService(rooms, facts, from ?? {});
    return requireService(rooms, await rooms.services.add(facts));
  });
}

/** Writes what is in the change; items and people whole. To undo, send the earlier ones. */
export async function changeService(
  store: TeamStore,
  id: string,
  version: number,
  { people, ...change }: ServiceChangeRead,
): Promise<Service> {
  return store.together(async (rooms) => {
    const before = await rooms.services.find(id);
    if (!before) throw noSuchService();
    const stale = () => staleVersion(`The service “${before.title}” of ${before.date}`);
    if (before.version !== version) throw stale();
    const update = { ...change, ...(people && { people: tidied(people) }) };
    await checkService(rooms, update, before);
    if (!(await rooms.services.update(id, version, update))) throw stale();
    await moveUsualEnds(rooms, id, before, { ...before, ...update });
    return requireService(rooms, id);
  });
}
