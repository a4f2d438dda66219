import type { PagesQuery } from '../contract/pages.ts';
import type { PartsQuery } from '../contract/person-parts.ts';
import type { Renderer } from '../render/renderer.ts';
import type { TeamRooms, TeamStore } from '../store/store.ts';
import { findSongbook } from './find-plan.ts';
import { noSuchService } from './find-services.ts';
import type { Encoding, KeptAnswer, KeptAnswers } from './kept-answers.ts';
import { makePages, type PersonPlan } from './make-pages.ts';
import { makePersonParts } from './make-person-parts.ts';
import { Refusal } from './refusal.ts';
import type { See } from './shown-names.ts';

/** What answers with kept pages works with. */
export interface PagesRooms {
  readonly team: TeamStore;
  readonly teamId: string;
  readonly renderer: Renderer;
  readonly kept: KeptAnswers;
  /** The count of the team's changes as this request found it; null: it is asked for. */
  readonly stamp: number | null;
}

export interface PagesWish {
  readonly service: string;
  readonly member: string;
  readonly query: PagesQuery;
  readonly see: See;
  readonly encoding: Encoding;
}

export function noSuchPerson(): Refusal {
  return new Refusal(
    'no-such-person',
    'Nobody of that name serves there this week. Whoever leads adds them to the people of the service.',
  );
}

/** One moment of everything that the pages of all who serve are made of, in their order. */
export async function findServicePlans(rooms: TeamRooms, id: string): Promise<PersonPlan[]> {
  const service = await rooms.services.find(id);
  if (!service) throw noSuchService();
  const book = await findSongbook(rooms, [service]);
  return service.people.flatMap((person) => {
    const member = book.members.get(person.member);
    return member ? [{ service, book, person, member }] : [];
  });
}

/** One moment of everything that a person's pages are made of. As many statements however long the order is. */
export async function findPersonPlan(
  rooms: TeamRooms,
  id: string,
  member: string,
): Promise<PersonPlan> {
  const service = await rooms.services.find(id);
  if (!service) throw noSuchService();
  const person = service.people.find((each) => each.member === member);
  if (!person) throw noSuchPerson();
  const book = await findSongbook(rooms, [service]);
  const found = book.members.get(member);
  if (!found) throw noSuchPerson();
  return { service, book, person, member: found };
}

/**
 * Everything that one person opens for a service, ready to be sent. No statement of its own where nothing was written
 * since it was last asked for: whoever lets a request in reads the team's count of changes anew, so what was made before
 * a change is never sent after it.
 */
export async function findPages(
  { team, teamId, renderer, kept, stamp: found }: PagesRooms,
  { service, member, query, see, encoding }: PagesWish,
): Promise<KeptAnswer> {
  const stamp = found ?? (await team.everyRequest.stamp());
  const { width, text, verse, names, played = '' } = query;
  const key = JSON.stringify([
    'pages',
    teamId,
    stamp,
    service,
    member,
    see,
    width,
    text,
    verse,
    names,
    played,
  ]);
  return kept.answer(key, encoding, async () => {
    const plan = await team.together((rooms) => findPersonPlan(rooms, service, member));
    return makePages(plan, renderer, query, see);
  });
}

/** The parts from which a device engraves the same pages by itself, kept and sent as the pages are. */
export async function findPersonParts(
  { team, teamId, kept, stamp: found }: Omit<PagesRooms, 'renderer'>,
  { service, member, query, see, encoding }: Omit<PagesWish, 'query'> & { query: PartsQuery },
): Promise<KeptAnswer> {
  const stamp = found ?? (await team.everyRequest.stamp());
  const { names, played = '' } = query;
  const key = JSON.stringify(['parts', teamId, stamp, service, member, see, names, played]);
  return kept.answer(key, encoding, async () => {
    const plan = await team.together((rooms) => findPersonPlan(rooms, service, member));
    return makePersonParts(plan, query, see);
  });
}
