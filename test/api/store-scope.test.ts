import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { guard, MODELS, type GuardedConnection } from '#server/store/guarded.ts';
import type { Connection } from '#server/store/database.ts';
import { songsStore } from '#server/store/songs.store.ts';
import { bringHymn, ownApp, SURROUNDINGS } from '#test/support/api.ts';

/** A team with a song, and the guard before its rows. */
async function guarded() {
  const { api, teamId, database, store, statements } = await ownApp();
  const song = await bringHymn(api);
  const other = await store.addTeam('Hill Road');
  statements();
  return { db: guard(database, teamId), teamId, other, song, database, statements };
}
type Guarded = Awaited<ReturnType<typeof guarded>>;

const at = new Date('2026-03-01T10:00:00Z');
const member = { name: 'Eve', roles: '[]', level: 'beginner', reach: 12, child: false };
const row = { id: 'eve', ...member, createdAt: at, updatedAt: at };

type Forgetting = (given: Guarded) => unknown;

/** Queries that forget the team, or name another. Types alone would let every one of them pass. */
const FORGETTING: readonly [string, RegExp, Forgetting][] = [
  ['lists all', /forgets/, ({ db }) => db.song.findMany({})],
  ['lists with no argument at all', /forgets/, ({ db }) => db.song.findMany()],
  ['finds by id alone', /forgets/, ({ db, song }) => db.song.findFirst({ where: { id: song.id } })],
  [
    'finds one by its key alone',
    /forgets/,
    ({ db, song }) => db.song.findUnique({ where: { id: song.id } }),
  ],
  [
    'names a team that is not known',
    /forgets/,
    ({ db }) => db.song.findMany({ where: { teamId: undefined as unknown as string } }),
  ],
  ['names another team', /forgets/, ({ db, other }) => db.song.count({ where: { teamId: other } })],
  [
    'names it among others',
    /forgets/,
    ({ db, teamId, other }) => db.song.findMany({ where: { teamId: { in: [teamId, other] } } }),
  ],
  [
    'names it as one of two ways',
    /forgets/,
    ({ db, teamId }) => db.song.findMany({ where: { OR: [{ teamId }, { demo: true }] } }),
  ],
  ['counts all', /forgets/, ({ db }) => db.member.count()],
  ['adds up all', /forgets/, ({ db }) => db.service.aggregate({ _count: true })],
  [
    'changes by id alone',
    /forgets/,
    ({ db, song }) => db.song.updateMany({ where: { id: song.id }, data: { title: 'x' } }),
  ],
  [
    'changes one by its key alone',
    /forgets/,
    ({ db, song }) => db.song.update({ where: { id: song.id }, data: { title: 'x' } }),
  ],
  ['deletes all', /forgets/, ({ db }) => db.serviceItem.deleteMany()],
  [
    'writes for another team',
    /forgets/,
    ({ db, other }) => db.member.create({ data: { ...row, teamId: other } }),
  ],
  [
    'writes one row of many for another team',
    /forgets/,
    ({ db, teamId, other }) =>
      db.member.createMany({ data: [teamId, other].map((id) => ({ ...row, id, teamId: id })) }),
  ],
  [
    'gives a row away',
    /another team/,
    ({ db, teamId, other }) => db.song.updateMany({ where: { teamId }, data: { teamId: other } }),
  ],
  [
    'writes a row within a row',
    /within a row/,
    ({ db, teamId, other }) =>
      db.team.update({
        where: { id: teamId },
        data: { members: { create: { ...row, teamId: other } } } as never,
      }),
  ],
  [
    'looks at another team',
    /forgets/,
    ({ db, other }) => db.team.findUnique({ where: { id: other } }),
  ],
  ['looks at every team', /forgets/, ({ db }) => db.team.findMany()],
  [
    'looks for a session of any team',
    /forgets/,
    ({ db }) => db.leaderSession.findUnique({ where: { secretHash: 'x' } }),
  ],
  [
    'asks in raw SQL',
    /not a function/,
    ({ db }) => (db as unknown as Connection).$queryRawUnsafe('SELECT * FROM Song'),
  ],
];

describe('The guard of a team’s rows', () => {
  it.each(FORGETTING)(
    'refuses a query that %s, before any statement is run',
    async (_, why, ask) => {
      const given = await guarded();
      expect(() => ask(given)).toThrow(why);
      expect(given.statements()).toEqual([]);
    },
  );

  it.each(FORGETTING)('and inside a transaction: %s', async (_, why, ask) => {
    const given = await guarded();
    await given.database.$transaction(async (inside) => {
      const db = guard(inside, given.teamId);
      expect(() => ask({ ...given, db })).toThrow(why);
    });
  });

  it('lets through whoever names the team', async () => {
    const { db, teamId, song } = await guarded();
    expect(await db.song.count({ where: { teamId } })).toBe(1);
    expect(await db.song.findUnique({ where: { id: song.id, teamId } })).toMatchObject({ teamId });
    await db.member.create({ data: { ...row, teamId } });
    await db.team.update({ where: { id: teamId }, data: { stamp: { increment: 1 } } });
    expect(await db.member.deleteMany({ where: { teamId, id: row.id } })).toEqual({ count: 1 });
  });

  it('shows a forgetting room no rows of anybody: the use case fails', async () => {
    const { database, teamId } = await guarded();
    const blind = { ...SURROUNDINGS, db: guard(database, teamId), teamId: undefined as never };
    await expect(songsStore(blind).list('present')).rejects.toThrow(/forgets the team/);
  });

  it('stands before every model there is', () => {
    const schema = readFileSync('prisma/schema.prisma', 'utf8');
    const models = [...schema.matchAll(/^model (\w+) \{\n([^}]*)\}/gm)];
    const named = models.map(([, name = '']) => name[0]?.toLowerCase() + name.slice(1));
    expect([...MODELS].sort()).toEqual(named.sort());
    for (const [, name, fields] of models) {
      if (name !== 'Team') expect(fields, name).toMatch(/^ {2}teamId +String$/m);
    }
  });

  it('is the only connection that a room can be built on', async () => {
    const { database, teamId } = await guarded();
    // @ts-expect-error a bare connection is not guarded, though it has the same rows
    const bare: GuardedConnection = database;
    expect(bare).toBe(database);
    // @ts-expect-error and nor is what is made by hand
    const made: GuardedConnection = { ...guard(database, teamId), ['guarded']: true } as Pick<
      GuardedConnection,
      'song'
    >;
    expect(made.song).toBeDefined();
  });
});
