import { describe, expect, it } from 'vitest';
import { addMember, bringHymn, hymnBytes, ownApp, ownDatabase, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { requireTeamId } from '#server/launch/seed.ts';

describe('what is written', () => {
  it('outlives a power cut: the log is synced at every commit', async () => {
    // sqlite.org/pragma.html: journal_mode=WAL, synchronous 2 is FULL.
    const { database } = ownDatabase();
    const pragma = (name: string) =>
      database.$queryRawUnsafe<Record<string, unknown>[]>(`PRAGMA ${name}`);
    expect(await pragma('journal_mode')).toEqual([{ journal_mode: 'wal' }]);
    expect((await pragma('synchronous')).map((row) => Number(row['synchronous']))).toEqual([2]);
    expect((await pragma('foreign_keys')).map((row) => Number(row['foreign_keys']))).toEqual([1]);
    expect((await pragma('busy_timeout')).map((row) => Number(row['timeout']))).toEqual([5000]);
  });

  it('has no WAL-reset defect in its SQLite: 3.51.3 or newer', async () => {
    // sqlite.org/wal.html, "The WAL-Reset Bug".
    const { database } = ownDatabase();
    const [row] = await database.$queryRaw<
      { version: string }[]
    >`SELECT sqlite_version() AS version`;
    const [major = 0, minor = 0, patch = 0] = (row?.version ?? '').split('.').map(Number);
    expect(major * 1e6 + minor * 1e3 + patch).toBeGreaterThanOrEqual(3_051_003);
  });

  it('is whole or not there: a song whose arrangement cannot be written is not kept either', async () => {
    // The second id of the second song is taken already, so its arrangement breaks a key of the database.
    const ids = ['team', 'song-1', 'arrangement', 'song-2', 'arrangement'];
    const { api, app } = await ownApp({}, { newId: () => ids.shift() ?? 'more' });
    app.log.level = 'silent';
    await bringHymn(api);
    const bytes = (await hymnBytes('Silent_Night-Stille_Nacht')).toString('base64');
    const answer = await api.post('/api/songs').send({ format: 'abc', bytes });
    const problem = expectProblem(answer, 'internal-error');
    expect(JSON.stringify(problem), 'nothing about the inside').not.toMatch(
      /prisma|sqlite|unique/i,
    );
    const { body } = await api.get('/api/songs').expect(200);
    expect(body.songs.map((song: { id: string }) => song.id)).toEqual(['song-1']);
  });

  it('is rolled back where a use case breaks off, and what others wrote meanwhile stays', async () => {
    const { store } = ownDatabase();
    const team = store.forTeam(await store.addTeam('Mill Lane'));
    const facts = {
      roles: [],
      level: 'beginner' as const,
      levels: {},
      instruments: {},
      reach: 12,
      comfortable: null,
      limit: null,
      child: false,
    };
    const broken = team.together(async (rooms) => {
      await rooms.members.add({ ...facts, name: 'Lost' });
      await new Promise((resolve) => setTimeout(resolve, 30));
      throw new Error('broken off');
    });
    const other = team.members.add({ ...facts, name: 'Kept' });
    await expect(broken).rejects.toThrow('broken off');
    await other;
    expect((await team.members.list('present')).map(({ name }) => name)).toEqual(['Kept']);
  });

  it('cannot be read by others before it is committed', async () => {
    const { store } = ownDatabase();
    const teamId = await store.addTeam('Mill Lane');
    let during: Promise<unknown> = Promise.resolve();
    await store.together(async (inside) => {
      await inside.addTeam('Not yet');
      during = store.teams();
    });
    // The question was asked while the transaction was open and answered after it.
    expect(await during).toHaveLength(2);
    expect((await store.teams()).map(({ id }) => id)).toContain(teamId);
  });
});

describe('fifty writers at once', () => {
  it('all add their members', async () => {
    const { api } = await ownApp();
    await Promise.all(
      Array.from({ length: 50 }, (_, place) => addMember(api, { name: `Singer ${place}` })),
    );
    const { body } = await api.get('/api/members').expect(200);
    expect(body.members).toHaveLength(50);
  });

  it('change the same member one after another: one wins each version, no edit is lost silently', async () => {
    const { api } = await ownApp();
    const { id } = await addMember(api, { name: 'Ruth' });
    const answers = await Promise.all(
      Array.from({ length: 50 }, (_, place) =>
        api
          .patch(`/api/members/${id}`)
          .set('if-match', tagOf(1))
          .send({ name: `Ruth ${place}` }),
      ),
    );
    const count = (status: number) => answers.filter((each) => each.status === status).length;
    expect([count(200), count(412)]).toEqual([1, 49]);
    expect((await api.get(`/api/members/${id}`)).body.version).toBe(2);
  });
});

describe('the demo', () => {
  it('is one team, made once', async () => {
    const { store } = ownDatabase();
    const teamId = await requireTeamId(store, 'seed-data');
    expect(await requireTeamId(store, 'seed-data')).toBe(teamId);
    expect((await store.teams()).length).toBe(1);
  });

  it('is not there at all where its data is broken', async () => {
    const { store } = ownDatabase();
    await expect(requireTeamId(store, 'test/api')).rejects.toThrow();
    expect(await store.teams()).toEqual([]);
  });
});
