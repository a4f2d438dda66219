import { describe, expect, it } from 'vitest';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { setPassphrase } from '#test/support/visitors.ts';

/** The statements of one answer, without those that open and close a transaction. */
async function statementsOf(
  { api, statements }: TestApp,
  path: string,
  cookie = '',
): Promise<number> {
  statements();
  await api.get(path).set('cookie', cookie).expect(200);
  return statements().filter((sql) => !/^(BEGIN|COMMIT|ROLLBACK)/.test(sql)).length;
}

describe('a read takes a fixed few statements', () => {
  it('lists: one, and one that asks who may read, however many songs and members there are', async () => {
    const own = await ownApp();
    await bringHymn(own.api);
    const few = [await statementsOf(own, '/api/songs'), await statementsOf(own, '/api/members')];
    for (let more = 0; more < 5; more += 1) {
      await bringHymn(own.api);
      await addMember(own.api, { name: `Singer ${more}` });
    }
    const many = [await statementsOf(own, '/api/songs'), await statementsOf(own, '/api/members')];
    expect([few, many]).toEqual([
      [2, 2],
      [2, 2],
    ]);
  });

  it('a song: two, and one that asks who may read, with a passphrase as without', async () => {
    const own = await ownApp();
    const { id } = await bringHymn(own.api);
    expect(await statementsOf(own, `/api/songs/${id}`)).toBe(3);
    const cookie = await setPassphrase(own.api);
    expect(await statementsOf(own, `/api/songs/${id}`, cookie)).toBe(3);
  });

  it('an arrangement: as many with ten singers as with one', async () => {
    const own = await ownApp();
    const { id } = await bringHymn(own.api);
    const path = `/api/songs/${id}/arrangement`;
    const singers: string[] = [];
    const counts: number[] = [];
    for (const size of [1, 10]) {
      while (singers.length < size) {
        singers.push((await addMember(own.api, { name: `Singer ${singers.length}` })).id);
      }
      const version = counts.length + 1;
      await own.api
        .patch(path)
        .set('if-match', tagOf(version))
        .send({ lead: singers[0], player: singers[0], singers })
        .expect(200);
      counts.push(await statementsOf(own, path));
    }
    expect(counts[1]).toBe(counts[0]);
    expect(counts[0]).toBeLessThanOrEqual(5);
  });
});

describe('lists', () => {
  it('are read along an index', async () => {
    const { database } = await ownApp();
    const plan = async (sql: string) =>
      (await database.$queryRawUnsafe<{ detail: string }[]>(`EXPLAIN QUERY PLAN ${sql}`))
        .map(({ detail }) => detail)
        .join('; ');
    const songs = `SELECT id FROM Song WHERE teamId = 'x' AND deletedAt IS NULL ORDER BY title`;
    const members = `SELECT id FROM Member WHERE teamId = 'x' AND deletedAt IS NULL ORDER BY name`;
    for (const sql of [songs, members]) {
      expect(await plan(sql)).toMatch(/^SEARCH \w+ USING (COVERING )?INDEX \w+_teamId_deletedAt_/);
      expect(await plan(sql)).not.toContain('TEMP B-TREE');
    }
  });
});
