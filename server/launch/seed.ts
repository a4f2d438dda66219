import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  readFile as readSongFile,
  readScore as readKeptScore,
  type Reader,
} from '../reading/reader.ts';
import { arrangeSong, findArrangement } from '../services/arrange-song.ts';
import { beginDemo } from '../services/begin-demo.ts';
import { importSong } from '../services/import-song.ts';
import { saveDetails } from '../services/save-details.ts';
import { addMember } from '../services/save-member.ts';
import { addService } from '../services/save-service.ts';
import { sundayFrom } from '../services/service-time.ts';
import type { Store, TeamStore } from '../store/store.ts';
import {
  SeedTeam,
  type SeedForm,
  type SeedItem,
  type SeedService,
  type SeedSong,
} from './seed-team.ts';

/**
 * The team whose rows are shown: the first there is; on an empty database the one in `seed-data`.
 * @param zone on whose clocks its services take place; missing: those of this machine
 */
export async function requireTeamId(
  store: Store,
  seedData: string,
  zone = Intl.DateTimeFormat().resolvedOptions().timeZone,
): Promise<string> {
  const [first] = await store.teams();
  return first?.id ?? store.together((inside) => seed(inside, seedData, zone));
}

/** What was brought so far, by the names that `team.json` uses. */
interface Brought {
  readonly team: TeamStore;
  readonly folder: string;
  readonly zone: string;
  readonly members: Map<string, string>;
  readonly songs: Map<string, { readonly id: string; readonly mode: Key['mode'] }>;
}
type Key = NonNullable<Parameters<typeof arrangeSong>[3]['key']>;

function required<T>(all: ReadonlyMap<string, T>, name: string): T {
  const found = all.get(name);
  if (found === undefined) throw new Error(`team.json names ${name}, who or which is not in it`);
  return found;
}

function formOf({ members }: Brought, form: SeedForm) {
  return form.map(({ lead, ...pass }) =>
    lead === undefined ? pass : { ...pass, lead: required(members, lead) },
  );
}

/** Our own files need no thread of their own. */
const HERE: Reader = {
  read: async (request) => readSongFile(request),
  readScore: async (json) => readKeptScore({ json }),
  close: async () => {},
};

async function bringSong(
  brought: Brought,
  { file, key, lead, singers, player, form, details }: SeedSong,
  usually: SeedTeam['usually'],
): Promise<void> {
  const { team, folder, members, songs } = brought;
  const bytes = await readFile(join(folder, file.includes('/') ? file : `hymns/${file}`));
  const { song } = await importSong(team, HERE, { format: 'abc', bytes: bytes.toString('base64') });
  if (details) await saveDetails(team, song.id, song.version, { details, privateNote: '' });
  const { version, key: own } = await findArrangement(team, song.id);
  songs.set(file, { id: song.id, mode: own.mode });
  await arrangeSong(team, song.id, version, {
    ...(key && { key: { tonic: key, mode: own.mode } }),
    ...(form && { form: formOf(brought, form) }),
    player: required(members, player ?? usually.player),
    lead: required(members, lead ?? usually.lead),
    singers: (singers ?? usually.singers).map((name) => required(members, name)),
  });
}

function lineOf(brought: Brought, item: SeedItem) {
  const { team, members, songs } = brought;
  const id = team.surroundings.newId();
  if ('kind' in item) {
    return {
      id,
      ...item,
      song: null,
      key: null,
      lead: null,
      form: null,
      playedIn: {},
      rungs: {},
      wayOn: null,
    };
  }
  const { key: tonic, lead, form, note } = item;
  const song = required(songs, item.song);
  const playedIn = Object.entries(item.playedIn).map(([name, played]) => [
    required(members, name),
    played,
  ]);
  return {
    id,
    kind: 'song' as const,
    title: '',
    minutes: null,
    note,
    song: song.id,
    key: tonic === undefined ? null : { tonic, mode: song.mode },
    lead: lead === undefined ? null : required(members, lead),
    form: form === undefined ? null : formOf(brought, form),
    playedIn: Object.fromEntries(playedIn),
    rungs: {},
    wayOn: null,
  };
}

async function bringService(
  brought: Brought,
  { weeks, items, people, title, time, place }: SeedService,
): Promise<void> {
  const { team, zone, members } = brought;
  await addService(team, {
    date: sundayFrom(zone, team.surroundings.now(), weeks),
    zone,
    ...(title !== undefined && { title }),
    ...(time !== undefined && { time }),
    ...(place !== undefined && { place }),
    items: items.map((item) => lineOf(brought, item)),
    people: people.map(({ name, ...facts }) => ({ member: required(members, name), ...facts })),
  });
}

async function seed(store: Store, folder: string, zone: string): Promise<string> {
  const text = await readFile(join(folder, 'team.json'), 'utf8');
  const plan = SeedTeam.parse(JSON.parse(text));
  const teamId = await store.addTeam(plan.name);
  const team = store.forTeam(teamId);
  const brought: Brought = { team, folder, zone, members: new Map(), songs: new Map() };
  for (const facts of plan.members) {
    const { id, name } = await addMember(team, facts);
    brought.members.set(name, id);
  }
  for (const song of plan.songs) await bringSong(brought, song, plan.usually);
  for (const service of plan.services) await bringService(brought, service);
  if (plan.demo) await beginDemo(team);
  return teamId;
}
