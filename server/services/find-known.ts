import { setImmediate } from 'node:timers/promises';
import { Known, Parts, PlayedKeys, type Key, type PlayedPart } from '#music';
import type { Known as KnownAnswer } from '../contract/members.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { StoredItem, StoredService } from '../store/services.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { noSuchMember } from './find-members.ts';
import { arrangementOf, findSongbook, type PlannedSong, type Songbook } from './find-plan.ts';
import type { PagesRooms } from './find-pages.ts';
import type { Encoding, KeptAnswer } from './kept-answers.ts';
import { playerOf } from './person-parts.ts';
import { isOver, momentOf } from './service-time.ts';

/** What somebody has played at the keys: each song of each service that is over, the latest first. */
export interface Past {
  readonly member: StoredMember;
  readonly services: readonly StoredService[];
  readonly book: Songbook;
}

export async function findPast(rooms: TeamRooms, id: string, now: Date): Promise<Past> {
  const member = await rooms.members.find(id);
  if (!member) throw noSuchMember();
  const all = await rooms.services.listOf(id);
  const services = all.filter(
    (service) => isOver(service, now) && service.people.some(({ roles }) => roles.includes('keys')),
  );
  return { member, services, book: await findSongbook(rooms, services) };
}

export interface Played {
  readonly id: string;
  readonly song: PlannedSong;
  readonly item: StoredItem;
  readonly date: string;
  /** As it sounded. */
  readonly key: Key;
  /** As it lay under the hands. */
  readonly plays: Key;
}

export function playedIn({ member, services, book }: Past): Played[] {
  return services.flatMap(({ date, items }) =>
    items.flatMap((item): Played[] => {
      const song = item.song === null ? undefined : book.songs.get(item.song);
      if (!song || item.song === null) return [];
      const { key } = arrangementOf(item, song);
      const tonic = item.playedIn[member.id];
      const other =
        tonic === undefined ? null : PlayedKeys.of(key, tonic, member.instruments, 'keys');
      return [{ id: item.song, song, item, date, key, plays: other?.plays ?? key }];
    }),
  );
}

const sayKey = ({ tonic, mode }: Key) => `${tonic} ${mode}`;

/** Each once, in the order they come. */
function distinctBy<T>(list: readonly T[], sign: (entry: T) => string): T[] {
  const signs = new Set<string>();
  return list.filter((entry) => {
    const fresh = !signs.has(sign(entry));
    signs.add(sign(entry));
    return fresh;
  });
}

function songsOf(played: readonly Played[]): KnownAnswer['songs'] {
  return distinctBy(played, ({ id }) => id).map(({ id, song, date }) => {
    const own = played.filter((each) => each.id === id);
    return {
      id,
      title: song.title,
      keys: distinctBy(own, ({ key }) => sayKey(key)).map(({ key }) => ({
        tonic: key.tonic,
        mode: key.mode,
      })),
      times: own.length,
      last: date,
    };
  });
}

/** The parts that were played, each song once as it was played in each key; other requests may come in between. */
export async function partsOf(
  member: StoredMember,
  played: readonly Played[],
): Promise<PlayedPart[]> {
  const parts: PlayedPart[] = [];
  // A pass in another key has shapes of its own.
  const raised = ({ item, song }: Played) =>
    new Set(
      arrangementOf(item, song).form?.flatMap(({ section, up }) =>
        up ? [`${section} ${up}`] : [],
      ),
    );
  const signOf = (each: Played) =>
    `${each.id} ${sayKey(each.plays)} ${JSON.stringify([[...raised(each)], each.item.rungs[member.id] ?? {}])}`;
  for (const each of distinctBy(played, signOf)) {
    const { id, song, item, plays } = each;
    const player = playerOf(member, { voice: null }, 'keys', member.name, item.rungs[member.id]);
    const arrangement = { ...arrangementOf(item, song), key: plays };
    const built = Parts.build(song.score, arrangement, player, { roles: ['keys'] });
    if (built.ok) parts.push({ song: id, part: built.value });
    await setImmediate();
  }
  return parts;
}

/** The songs and the shapes that somebody has met at the keys, ready to be sent. */
export async function findKnown(
  { team, teamId, kept, stamp: found }: Omit<PagesRooms, 'renderer'>,
  { member: id, encoding }: { member: string; encoding: Encoding },
): Promise<KeptAnswer> {
  const stamp = found ?? (await team.everyRequest.stamp());
  const now = team.surroundings.now();
  const moment = momentOf(now);
  const key = JSON.stringify(['known', teamId, stamp, id, moment]);
  return kept.answer(key, encoding, async (): Promise<KnownAnswer> => {
    const past = await team.together((rooms) => findPast(rooms, id, now));
    const played = playedIn(past);
    const shapes = Known.of(await partsOf(past.member, played)).map((shape) => ({
      ...shape,
      notes: [...shape.notes],
      fingers: [...shape.fingers],
    }));
    return { member: id, songs: songsOf(played), shapes };
  });
}
