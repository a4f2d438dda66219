import { Leads } from '#music';
import type { SetPerson, SetView } from '../contract/set.ts';
import type { StoredSet, StoredSetPerson } from '../store/set.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { namesInSet } from './names-in-set.ts';
import type { OpenedLink } from './open-link.ts';
import { Refusal } from './refusal.ts';
import { instantOf } from './service-time.ts';

const SINGS = new Set(['lead voice', 'harmony voice']);

/** Who sings in the service may mark where their voice sits, unless it is a child. */
export function marks({ marksRanges }: OpenedLink, { child, roles }: StoredSetPerson): boolean {
  return marksRanges && !child && roles.some((role) => SINGS.has(role));
}

/** The service of an open link. It was there a moment ago, when the link was opened. */
export async function requireSet(rooms: TeamRooms, { serviceId }: OpenedLink): Promise<StoredSet> {
  const set = await rooms.set.find(serviceId);
  if (!set) throw new Refusal('wrong-link', 'This link opens nothing any more. Ask your leader.');
  return set;
}

export function setPeople({ people }: StoredSet, link: OpenedLink): SetPerson[] {
  const names = namesInSet(people);
  return people.map((person) => {
    const may = marks(link, person);
    return {
      id: person.id,
      name: names.get(person.id) ?? '',
      roles: [...person.roles],
      marks: may,
      comfortable: may ? person.comfortable : null,
      rangeMarkedAt: may ? (person.rangeMarkedAt?.toISOString() ?? null) : null,
      voiceThisWeek: may && person.ownVoice,
    };
  });
}

function itemsOf({ items, people }: StoredSet): SetView['items'] {
  const names = namesInSet(people);
  return items
    .filter(({ kind, song }) => kind !== 'song' || (song !== null && !song.deleted))
    .map(({ id, kind, title, minutes, song, key, leadId, usualLeadId }) => {
      const lead = kind === 'song' ? Leads.leadOf(leadId, usualLeadId, people) : leadId;
      // Only of those who serve: another member of the team is nobody's business here.
      const name = lead === null ? null : (names.get(lead) ?? null);
      return { id, kind, title: song?.title ?? title, minutes, key, lead: name };
    });
}

/** What those who hold a set link see of its service: the order, and whose pages there are. */
export async function findSetView(rooms: TeamRooms, link: OpenedLink): Promise<SetView> {
  const set = await requireSet(rooms, link);
  const { team, title, date, time, zone, place } = set;
  return {
    team,
    title,
    date,
    time,
    zone,
    place,
    startsAt: instantOf(set).toISOString(),
    endsAt: link.endsAt.toISOString(),
    items: itemsOf(set),
    people: setPeople(set, link),
  };
}
