import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, inject, onTestFinished } from 'vitest';
import { buildApp } from '#server/app.ts';
import { BODY_LIMIT, type Config } from '#server/config.ts';
import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Member, NewMember } from '#server/contract/members.ts';
import type { Song } from '#server/contract/songs.ts';
import { createPlanner } from '#server/planning/planner.ts';
import { createReader } from '#server/reading/reader.ts';
import { createBinder } from '#server/render/packet/binder.ts';
import { createRenderer, type Renderer } from '#server/render/renderer.ts';
import { openDatabase, type Database } from '#server/store/database.ts';
import type { Surroundings } from '#server/store/scope.ts';
import { createStore, type Store } from '#server/store/store.ts';

export const CONFIG: Config = {
  host: '127.0.0.1',
  port: 0,
  databaseUrl: '',
  allowedHosts: [],
  publicAddress: null,
  webRoot: null,
  seedData: 'seed-data',
  bodyLimit: BODY_LIMIT,
};

export interface TestDatabase {
  /** `file:` and the path of this test's own copy. */
  readonly url: string;
  readonly database: Database;
  readonly store: Store;
  /** The SQL run since the last look; looking empties it. */
  readonly statements: () => string[];
}

/** The real engraver, reader, binder and planner, a thread each for a whole file: starting it takes longer than most tests. */
const engraver = createRenderer();
const reader = createReader();
const binder = createBinder();
const planner = createPlanner();
afterAll(() => Promise.all([engraver.close(), reader.close(), binder.close(), planner.close()]));

let ids = 0;

/** Time stands still and ids count up, unless a test says otherwise. */
export const SURROUNDINGS: Surroundings = {
  now: () => new Date('2026-03-01T10:00:00Z'),
  newId: () => `id-${(ids += 1)}`,
};

/** A real database file, copied for this test from the migrated template and removed after it. */
export function ownDatabase(
  surroundings: Partial<Surroundings> = {},
  template = inject('databaseTemplate'),
): TestDatabase {
  const folder = mkdtempSync(join(tmpdir(), 'partbook-test-'));
  const file = join(folder, 'test.db');
  copyFileSync(template, file);
  let said: string[] = [];
  const url = `file:${file}`;
  const database = openDatabase(url, { onStatement: (sql) => said.push(sql) });
  onTestFinished(async () => {
    await database.$disconnect();
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    url,
    database,
    store: createStore(database, { ...SURROUNDINGS, ...surroundings }),
    statements: () => {
      const since = said;
      said = [];
      return since;
    },
  };
}

export interface TestApp extends TestDatabase {
  readonly app: FastifyInstance;
  readonly teamId: string;
  readonly api: ReturnType<typeof supertest>;
}

/** The app as it runs, for one team of a database of its own. */
export async function ownApp(
  config: Partial<Config> = {},
  surroundings: Partial<Surroundings> = {},
): Promise<TestApp> {
  const own = ownDatabase(surroundings);
  const teamId = await own.store.addTeam('Mill Lane');
  return { ...own, ...(await appFor(own, teamId, config)), teamId };
}

/** Another app on the same database, for another team. */
export async function appFor(
  { store }: Pick<TestDatabase, 'store'>,
  teamId: string,
  config: Partial<Config> = {},
  renderer: Renderer = engraver,
): Promise<Pick<TestApp, 'app' | 'api'>> {
  const app = await buildApp(
    { ...CONFIG, ...config },
    { store, teamId, renderer, reader, binder, planner },
  );
  await app.ready();
  onTestFinished(() => app.close());
  return { app, api: supertest(app.server) };
}

type Api = TestApp['api'];

/** A hymn as published: bytes of `seed-data/hymns`. */
export function hymnBytes(name: string): Promise<Buffer> {
  return readFile(join('seed-data/hymns', `${name}.abc`));
}

export const NEW_BRITAIN = 'Amazing_Grace-New_Britain';

export async function bringHymn(api: Api, name = NEW_BRITAIN): Promise<Song> {
  const bytes = (await hymnBytes(name)).toString('base64');
  const answer = await api.post('/api/songs').send({ format: 'abc', bytes }).expect(201);
  return answer.body as Song;
}

export async function addMember(api: Api, facts: NewMember): Promise<Member> {
  const answer = await api.post('/api/members').send(facts).expect(201);
  return answer.body as Member;
}

export async function arrangementOf(api: Api, songId: string): Promise<Arrangement> {
  const answer = await api.get(`/api/songs/${songId}/arrangement`).expect(200);
  return answer.body as Arrangement;
}

/** A version as If-Match takes it. */
export const tagOf = (version: number): string => `"v${version}"`;
