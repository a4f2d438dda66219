import {
  Leads,
  Onwards,
  type Arrangement,
  type OrderedItem,
  type Score,
  type SongDetails,
} from '#music';
import type { StoredArrangement } from '../store/arrangements.store.ts';
import type { StoredMember } from '../store/members.store.ts';
import type { SourceFormat } from '../store/songs.store.ts';
import type { StoredItem, StoredService } from '../store/services.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { answeredScore } from './answered-score.ts';
import { knownForm } from './known-form.ts';
import { leadsIn } from './pass-leads.ts';
import { tempoFrom } from './tempo-from.ts';

/** A song of a service with how the team usually does it. */
export interface PlannedSong {
  readonly title: string;
  /** With answers and corrections, in the song's own key. */
  readonly score: Score;
  /** What the team knows of it; never the private note. */
  readonly details: SongDetails;
  readonly arrangement: StoredArrangement;
  readonly sourceFormat: SourceFormat;
}

/** What is needed to write everybody's pages. */
export interface Songbook {
  readonly songs: ReadonlyMap<string, PlannedSong>;
  /** Titles of the songs that were deleted. */
  readonly deleted: ReadonlyMap<string, string>;
  /** Without those who were deleted. */
  readonly members: ReadonlyMap<string, StoredMember>;
}

type Ordered = Pick<StoredService, 'items' | 'people'>;

const distinct = (ids: readonly (string | null)[]): string[] => [
  ...new Set(ids.filter((id) => id !== null)),
];

/** Songs and members that the services name. As many statements however many there are. */
export async function findSongbook(
  rooms: TeamRooms,
  services: readonly Ordered[],
): Promise<Songbook> {
  const items = services.flatMap((service) => service.items);
  const ids = distinct(items.map(({ song }) => song));
  const stored = await rooms.songs.findAll(ids, { deletedToo: true });
  const arrangements = await rooms.arrangements.findOfSongs(ids);
  const members = await rooms.members.findAll(
    distinct([
      ...services.flatMap(({ people }) => people.map(({ member }) => member)),
      ...items.map(({ lead }) => lead),
      ...arrangements.map(({ lead }) => lead),
      ...[...items, ...arrangements]
        .flatMap(({ form }) => leadsIn('form', form))
        .map(({ member }) => member),
    ]),
  );
  const songs = stored.flatMap((song): [string, PlannedSong][] => {
    const arrangement = arrangements.find(({ songId }) => songId === song.id);
    return arrangement && !song.deletedAt
      ? [
          [
            song.id,
            {
              title: song.title,
              score: answeredScore(song),
              details: song.details,
              arrangement,
              sourceFormat: song.sourceFormat,
            },
          ],
        ]
      : [];
  });
  return {
    songs: new Map(songs),
    deleted: new Map(stored.flatMap((song) => (song.deletedAt ? [[song.id, song.title]] : []))),
    members: new Map(members.map((member) => [member.id, member])),
  };
}

type Serves = Pick<StoredService, 'people'>;

/** The people of a service who are there still, with what they do. */
function servingIn({ people }: Serves, { members }: Songbook): Leads.Serving[] {
  return people
    .filter(({ member }) => members.has(member))
    .map(({ member, roles }) => ({ id: member, roles }));
}

/** Who leads a line of the order: of a song by what is usual too. */
export function leadIn(
  service: Serves,
  { kind, lead, song }: Pick<StoredItem, 'kind' | 'lead' | 'song'>,
  book: Songbook,
): string | null {
  if (kind !== 'song') return lead;
  const usual = song === null ? null : (book.songs.get(song)?.arrangement.lead ?? null);
  return Leads.leadOf(lead, usual, servingIn(service, book));
}

/** Who is named to lead a song of the order, or a pass of it, and does not serve. */
export function awayIn(
  service: Serves,
  item: Pick<StoredItem, 'kind' | 'lead' | 'song' | 'key' | 'form'>,
  book: Songbook,
): Leads.AwayLead[] {
  const song = item.song === null ? undefined : book.songs.get(item.song);
  if (item.kind !== 'song' || !song) return [];
  const passes = arrangementOf(item, song).form?.map(({ lead }) => lead) ?? [];
  return Leads.awayLeads(item.lead, passes, servingIn(service, book));
}

/** How a song is done in this service: what the item says, else what is usual. Leads of passes are ids. */
export function arrangementOf(
  item: Pick<StoredItem, 'key' | 'form'>,
  { score, arrangement, sourceFormat }: PlannedSong,
): Arrangement {
  // A key that was chosen before the song was said to be in another mode means another song.
  const key = item.key?.mode === arrangement.key.mode ? item.key : arrangement.key;
  return {
    key,
    tempo: arrangement.tempo,
    ...tempoFrom(sourceFormat),
    density: arrangement.density,
    form: knownForm(item.form ?? arrangement.form, score),
  };
}

/**
 * The same with the way on to the next song of the order, and the way here, for whoever plays it in this service.
 * What stands between and what comes next count, so the whole order is looked at.
 */
export function arrangementIn(
  { items }: Pick<StoredService, 'items'>,
  item: StoredItem,
  song: PlannedSong,
  book: Songbook,
): Arrangement {
  const arrangement = arrangementOf(item, song);
  if (items.every(({ wayOn }) => wayOn === null)) return arrangement;
  const ordered = items.map(({ kind, title, wayOn, ...each }): OrderedItem => {
    const found = each.song === null ? undefined : book.songs.get(each.song);
    return {
      kind,
      title: found?.title ?? title,
      wayOn,
      song: found ? { score: found.score, arrangement: arrangementOf(each, found) } : null,
    };
  });
  const at = items.indexOf(item);
  const [onward, comesFrom] = [Onwards.onwardAt(ordered, at), Onwards.comesFrom(ordered, at)];
  return { ...arrangement, ...(onward && { onward }), ...(comesFrom && { comesFrom }) };
}
