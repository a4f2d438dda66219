import { OrderSheets, PlayedKeys, type OrderItem, type PlayedKey, type Role } from '#music';
import type { PlainPage } from '../contract/person-parts.ts';
import type { StoredItem, StoredService } from '../store/services.store.ts';
import { arrangementOf, awayIn, leadIn, type Songbook } from './find-plan.ts';
import { withNamedLeads } from './pass-leads.ts';
import { ofServing, type NameOf, type See } from './shown-names.ts';

const WORDS = new Intl.DateTimeFormat('en', {
  timeZone: 'UTC',
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
});

/** `Sunday, 29 November 2026, 10:30`: a date and a time on the clocks there, so no zone comes in. */
export function sayWhen({ date, time }: Pick<StoredService, 'date' | 'time'>): string {
  const parts = WORDS.formatToParts(new Date(`${date}T00:00:00Z`));
  const [weekday, day, month, year] = (['weekday', 'day', 'month', 'year'] as const).map(
    (type) => parts.find((part) => part.type === type)?.value ?? '',
  );
  return `${weekday}, ${day} ${month} ${year}, ${time}`;
}

/** What somebody reads in another key, and how: by the transpose button at the keys, by a capo on the guitar. */
export function playedBy(
  book: Songbook,
  item: Pick<StoredItem, 'song' | 'key' | 'form'>,
  member: string,
  roles: readonly Role[],
  tonic: string | undefined,
): { readonly role: Role; readonly played: PlayedKey } | null {
  const song = item.song === null ? undefined : book.songs.get(item.song);
  const instruments = book.members.get(member)?.instruments;
  if (!song || !instruments || tonic === undefined) return null;
  const { key } = arrangementOf(item, song);
  for (const role of ['keys', 'guitar'] as const) {
    const played = roles.includes(role) ? PlayedKeys.of(key, tonic, instruments, role) : null;
    if (played) return { role, played };
  }
  return null;
}

function orderItem(
  service: StoredService,
  book: Songbook,
  item: StoredItem,
  nameOf: NameOf,
  see: See,
): OrderItem {
  const song = item.song === null ? undefined : book.songs.get(item.song);
  const reads = service.people.flatMap(({ member, roles }) => {
    const found = playedBy(book, item, member, roles, item.playedIn[member]);
    const name = nameOf(member);
    return found && name !== null ? [{ name, played: found.played }] : [];
  });
  const away = awayIn(service, item, book).flatMap(({ id, leads }) => {
    const name = nameOf(id);
    return name === null ? [] : [{ name, leads }];
  });
  return {
    item: item.id,
    kind: item.kind,
    title: song?.title ?? item.title,
    minutes: item.minutes,
    // What the leader noted for themselves is not for everybody who holds the link.
    note: see === 'all' ? item.note : '',
    wayOn: item.wayOn,
    lead: nameOf(leadIn(service, item, book)),
    song: song
      ? {
          score: song.score,
          arrangement: withNamedLeads(arrangementOf(item, song), ofServing(nameOf, service.people)),
        }
      : null,
    reads,
    away,
  };
}

/** The order of service, as the first page of whoever leads it. */
export function makeOrderPage(
  service: StoredService,
  book: Songbook,
  nameOf: NameOf,
  see: See,
): PlainPage {
  const sheet = OrderSheets.of({
    title: service.title,
    when: sayWhen(service),
    begins: service.time,
    until: service.until,
    place: service.place,
    items: service.items.map((item) => orderItem(service, book, item, nameOf, see)),
    people: service.people.flatMap(({ member, roles }) => {
      const name = nameOf(member);
      return name === null ? [] : [{ name, roles }];
    }),
  });
  return { kind: 'order', item: null, title: 'Order of service', role: 'leader', sheet };
}
