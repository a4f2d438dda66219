import { PlayedKeys, TeamSingers, WordsSheets, type NamedNotes, type PageRequest } from '#music';
import type { Page, PagesQuery, PersonPages } from '../contract/pages.ts';
import type { PlainPage } from '../contract/person-parts.ts';
import type { Renderer } from '../render/renderer.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { StoredItem, StoredPerson, StoredService } from '../store/services.store.ts';
import { arrangementIn, arrangementOf, leadIn, type Songbook } from './find-plan.ts';
import { makeOrderPage } from './make-order-page.ts';
import { makeSongPages, type SongPages } from './make-song-pages.ts';
import { leadsIn, withNamedLeads } from './pass-leads.ts';
import { playerOf, rolesWithPages } from './person-parts.ts';
import { namesFor, ofServing, type NameOf, type See } from './shown-names.ts';

/** A person of a service with everything their pages are made of. */
export interface PersonPlan {
  readonly service: StoredService;
  readonly book: Songbook;
  readonly person: StoredPerson;
  readonly member: StoredMember;
}

type Wish = Pick<PagesQuery, 'width' | 'text' | 'verse' | 'played' | 'names'> &
  Pick<PageRequest, 'paper'>;

/** `item.C,item.G` → by item. */
export function tonicsOf(played: string | undefined): Map<string, string> {
  const pairs = (played?.split(',') ?? []).map((pair): [string, string] => {
    const dot = pair.lastIndexOf('.');
    return [pair.slice(0, dot), pair.slice(dot + 1)];
  });
  return new Map(pairs);
}

/** The tonics this person can read an item in, the sounding one first; none where there is no choice. */
function readsOf({ book, person, member }: PersonPlan, item: StoredItem): string[] {
  const song = item.song === null ? undefined : book.songs.get(item.song);
  if (!song || WordsSheets.isWordsOnly(song.score)) return [];
  const { key } = arrangementOf(item, song);
  const others = person.roles.flatMap((role) =>
    PlayedKeys.choices(key, member.instruments, role).map(({ plays }) => plays.tonic),
  );
  return others.length === 0 ? [] : [...new Set([key.tonic, ...others])];
}

/** A song that was deleted has no page, and says so. */
export function deletedSong(
  { book, person }: PersonPlan,
  { id, song, title }: StoredItem,
): PlainPage[] {
  const [role] = person.roles;
  if (!role) return [];
  const name = (song === null ? undefined : book.deleted.get(song)) ?? title;
  const reason = `“${name}” was deleted from the songs. Restored there, it stands here again.`;
  return [{ kind: 'none', item: id, title: name, role, reason }];
}

/** Everybody who serves and is there still, with this week's voice. */
function servingSingers(
  { service, book }: PersonPlan,
  nameOf: NameOf,
): TeamSingers.ServingSinger[] {
  return service.people.flatMap(({ member: id, roles, voice }) => {
    const member = book.members.get(id);
    if (!member) return [];
    const { comfortable, child } = member;
    return [{ id, name: nameOf(id) ?? '', roles, child, voice: voice ?? comfortable }];
  });
}

/** A song of the order for this person, before it is made into pages or files; null: it was deleted. */
export function songOfItem(
  plan: PersonPlan,
  item: StoredItem,
  see: See,
  wished: string | undefined,
  names: NamedNotes = 'english',
): Omit<SongPages, 'page'> | null {
  const { service, book, person, member } = plan;
  const nameOf = namesFor(see, book.members, service.people);
  const song = item.song === null ? undefined : book.songs.get(item.song);
  if (!song) return null;
  // Where a child's voice sits is nobody's business but the team's.
  const voiceIsPrivate = see === 'by link' && member.child;
  const lead = leadIn(service, item, book);
  const name = nameOf(member.id) ?? '';
  const arrangement = arrangementIn(service, item, song, book);
  const ofPasses = leadsIn('form', arrangement.form).map((pass) => pass.member);
  const leads = (id: string): boolean => lead === id || ofPasses.includes(id);
  return {
    item: item.id,
    title: song.title,
    score: song.score,
    arrangement: withNamedLeads(arrangement, ofServing(nameOf, service.people)),
    players: rolesWithPages(person.roles, leads(member.id))
      .map((role) => playerOf(member, person, role, name, item.rungs[member.id]))
      .map((player) => ({ ...player, names, ...(voiceIsPrivate && { voice: null }) })),
    voiceIsPrivate,
    team: {
      roles: [...new Set(service.people.flatMap(({ roles }) => roles))],
      lead: nameOf(lead),
      ...TeamSingers.singersOf(servingSingers(plan, nameOf), lead, leads),
    },
    tonic: wished ?? item.playedIn[member.id],
  };
}

async function pagesOfItem(
  plan: PersonPlan,
  item: StoredItem,
  renderer: Renderer,
  see: See,
  page: PageRequest,
  { names, tonic }: { readonly names: NamedNotes; readonly tonic: string | undefined },
): Promise<Page[]> {
  const song = songOfItem(plan, item, see, tonic, names);
  return song ? makeSongPages({ ...song, page }, renderer) : deletedSong(plan, item);
}

export function songsOf({ service }: PersonPlan): StoredItem[] {
  return service.items.filter(({ kind }) => kind === 'song');
}

/** The order of service, for who leads it. */
export function orderPages({ service, book, person }: PersonPlan, see: See): PlainPage[] {
  if (!person.roles.includes('leader')) return [];
  return [makeOrderPage(service, book, namesFor(see, book.members, service.people), see)];
}

/** What stands over all pages of a person. */
export function headOf(plan: PersonPlan, see: See): Omit<PersonPages, 'pages'> {
  const { service, book, person, member } = plan;
  const nameOf = namesFor(see, book.members, service.people);
  const reads = songsOf(plan)
    .map((item): [string, string[]] => [item.id, readsOf(plan, item)])
    .filter(([, keys]) => keys.length > 0);
  const { title, date, time, zone, place } = service;
  return {
    service: { title, date, time, zone, place },
    person: { id: member.id, name: nameOf(member.id) ?? '', roles: [...person.roles] },
    reads: Object.fromEntries(reads),
  };
}

/**
 * Everything that one person opens or prints for a service, in order: the order of service first for who leads it.
 * @param onsong after each song; what it throws ends the work
 */
export async function makePages(
  plan: PersonPlan,
  renderer: Renderer,
  wish: Wish,
  see: See,
  onsong: () => void = () => undefined,
): Promise<PersonPages> {
  const { width, text, verse = null, paper, names } = wish;
  const page: PageRequest = { width, textScale: text, verse, ...(paper && { paper }) };
  const tonics = tonicsOf(wish.played);
  const pages: Page[] = [...orderPages(plan, see)];
  for (const item of songsOf(plan)) {
    const wished = { names, tonic: tonics.get(item.id) };
    pages.push(...(await pagesOfItem(plan, item, renderer, see, page, wished)));
    onsong();
  }
  return { ...headOf(plan, see), pages };
}
