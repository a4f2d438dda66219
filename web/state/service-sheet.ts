import {
  Leads,
  OrderSheets,
  PlayedKeys,
  type Key,
  type OrderedItem,
  type OrderSheet,
} from '#music';
import type { Member } from '#server/contract/members.ts';
import type { Service, ServiceItem } from '#server/contract/services.ts';
import { sayDate } from './dates.ts';
import type { SongShelf } from './service-songs.svelte.ts';
import { readingRole } from './service-week.ts';

/** What is known of a service beside its rows. */
interface Knowing {
  readonly members: readonly Member[];
  readonly shelf: Pick<SongShelf, 'find'>;
  titleOf(item: ServiceItem): string;
  keyOf(item: ServiceItem): Key | null;
  leadOf(item: ServiceItem): string | null;
  nameOf(member: string | null): string | null;
}

/** Each line of an order with the key and tempo that its song begins and ends in, for the ways from song to song. */
export function orderedOf(
  items: readonly ServiceItem[],
  known: Pick<Knowing, 'members' | 'shelf' | 'titleOf' | 'keyOf'>,
): OrderedItem[] {
  return items.map((item) => ({
    kind: item.kind,
    title: item.kind === 'song' ? known.titleOf(item) : item.title,
    wayOn: item.wayOn,
    song: songOf(item, known),
  }));
}

/** The order of a service as the leader's page prints it: times, keys, leads, and what a missing role means. */
export function sheetOf(service: Service, known: Knowing): OrderSheet {
  const { title, date, time, until, place, items } = service;
  return OrderSheets.of({
    title,
    when: `${sayDate(date)}, ${time}`,
    begins: time,
    until,
    place,
    items: items.map((item) => ({
      item: item.id,
      kind: item.kind,
      title: item.kind === 'song' ? known.titleOf(item) : item.title,
      minutes: item.minutes,
      note: item.note,
      wayOn: item.wayOn,
      lead: known.nameOf(known.leadOf(item)),
      song: songOf(item, known),
      reads: readsOf(item, known),
      away: awayOf(item, known),
    })),
    people: known.members.map(({ name, roles }) => ({ name, roles })),
  });
}

function readsOf(item: ServiceItem, known: Knowing) {
  const key = known.keyOf(item);
  return known.members.flatMap((member) => {
    const [role, tonic] = [readingRole(member), item.playedIn[member.id]];
    const played =
      key && role && tonic ? PlayedKeys.of(key, tonic, member.instruments, role) : null;
    return played ? [{ name: member.name, played }] : [];
  });
}

/** Who is named to lead it, or a pass of it, and does not serve. */
function awayOf({ kind, song, lead, form }: ServiceItem, known: Knowing) {
  if (kind !== 'song') return [];
  const passes = form ?? known.shelf.find(song)?.arrangement.form ?? [];
  return Leads.awayLeads(
    lead,
    passes.map((pass) => pass.lead),
    known.members,
  ).flatMap(({ id, leads }) => {
    const name = known.nameOf(id);
    return name === null ? [] : [{ name, leads }];
  });
}

function songOf(item: ServiceItem, known: Pick<Knowing, 'members' | 'shelf' | 'keyOf'>) {
  const shelved = known.shelf.find(item.song);
  const key = known.keyOf(item);
  if (!shelved || !key) return null;
  const { score } = shelved.song;
  const sections = new Set(score.sections.map(({ id }) => id));
  const form = (item.form ?? shelved.arrangement.form)?.filter(({ section }) =>
    sections.has(section),
  );
  const { tempo, density } = shelved.arrangement;
  const named = form?.map(({ lead, ...pass }) => {
    const name = known.members.find(({ id }) => id === lead)?.name ?? null;
    return name === null ? pass : { ...pass, lead: name };
  });
  const arrangement = { key, tempo, density, form: named?.length ? named : null };
  return { score, arrangement };
}
