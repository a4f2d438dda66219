import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Member } from '#server/contract/members.ts';
import { People } from './people.svelte.ts';

const ruth: Member = {
  id: 'ruth',
  name: 'Ruth',
  roles: ['lead voice'],
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  child: false,
  version: 3,
  deletedAt: null,
};
const tomas: Member = { ...ruth, id: 'tomas', name: 'Tomas' };

/** A server that lists everyone and, for a time, cannot save. */
function server() {
  let broken = true;
  const versions: (string | null)[] = [];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (init.method === 'GET') return Response.json({ members: [ruth, tomas] });
    if (broken) return Response.json({ code: 'internal', detail: 'It broke.' }, { status: 500 });
    versions.push(new Headers(init.headers).get('if-match'));
    const change = JSON.parse(init.body as string) as Partial<Member>;
    const member = path.endsWith('ruth') ? ruth : tomas;
    return Response.json({ ...member, ...change, version: member.version + 1 });
  });
  return { mend: () => (broken = false), versions };
}

afterEach(() => vi.unstubAllGlobals());

describe('The people of the team', () => {
  it('keep a change that could not be saved when the list is fetched anew, and save it later', async () => {
    const { mend, versions } = server();
    const people = new People();
    await people.load();
    people.change('ruth', { reach: 9 });
    await expect.poll(() => people.saverOf(ruth).state).toBe('kept');
    await people.load();
    const shown = () => people.list?.map(({ name, reach }) => [name, reach]);
    expect(shown()).toEqual([
      ['Ruth', 9],
      ['Tomas', 12],
    ]);
    expect(people.saverOf(ruth).state).toBe('kept');
    mend();
    await people.saverOf(ruth).retry();
    expect(versions).toEqual(['"v3"']);
    expect(people.saverOf(ruth).state).toBe('saved');
    expect(people.list?.[0]).toMatchObject({ reach: 9, version: 4 });
  });
});
