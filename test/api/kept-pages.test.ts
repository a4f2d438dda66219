import { describe, expect, it } from 'vitest';
import type { Service } from '#server/contract/services.ts';
import {
  addMember,
  appFor,
  bringHymn,
  ownDatabase,
  tagOf,
  type TestApp,
} from '#test/support/api.ts';
import { quickRenderer, songItem } from '#test/support/service.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

async function sunday(songs = 1) {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const renderer = quickRenderer();
  const app = await appFor(own, teamId, {}, renderer);
  const { api } = app;
  const song = await bringHymn(api);
  const ines = await addMember(api, { name: 'Ines', instruments: { transposeButton: true } });
  const ada = await addMember(api, { name: 'Ada', child: true });
  const service = await addService(api, {
    items: Array.from({ length: songs }, (_, i) => songItem(`item-${i}`, song.id)),
    people: [
      { member: ines.id, roles: ['keys', 'leader'] },
      { member: ada.id, roles: ['lead voice'] },
    ],
  });
  const path = `/api/services/${service.id}/pages/${ines.id}`;
  return { ...own, ...app, teamId, renderer, song, ines, ada, service, path };
}
type Sunday = Awaited<ReturnType<typeof sunday>>;

/** The SQL of one answer, without what opens and closes a transaction. */
async function statementsOf({ api, statements }: Pick<Sunday, 'api' | 'statements'>, path: string) {
  statements();
  await api.get(path).expect(200);
  return statements().filter((sql) => !/^(BEGIN|COMMIT|ROLLBACK)/.test(sql));
}

const change = (api: TestApp['api'], path: string, body: object, version = 1) =>
  api.patch(path).set('if-match', tagOf(version)).send(body).expect(200);

describe('a person’s pages cost', () => {
  it('as many statements for 20 songs as for one', async () => {
    const counts: number[] = [];
    for (const songs of [1, 8, 20]) {
      const own = await sunday(1);
      const items = [songItem('item-0', own.song.id)];
      while (items.length < songs)
        items.push(songItem(`item-${items.length}`, (await bringHymn(own.api)).id));
      await change(own.api, `/api/services/${own.service.id}`, { items });
      counts.push((await statementsOf(own, own.path)).length);
    }
    expect(new Set(counts).size).toBe(1);
    expect(counts[0]).toBeLessThanOrEqual(13);
  });

  it('one small statement while nothing changes, and nothing is engraved again', async () => {
    const own = await sunday(3);
    const first = await own.api.get(own.path).expect(200);
    const engraved = own.renderer.count();
    const [only, ...others] = await statementsOf(own, own.path);
    // Whether the leader's side is open, with the count of the team's changes.
    expect(others).toEqual([]);
    expect(only).toMatch(/^\s*SELECT [^]* FROM "Team" WHERE/);
    const again = await own.api.get(own.path).expect(200);
    expect(again.text).toBe(first.text);
    expect(own.renderer.count()).toBe(engraved);
  });

  it('the work of one, however many ask at the same moment and however they take it', async () => {
    const own = await sunday(4);
    const ask = (encoding: string) => own.api.get(own.path).set('accept-encoding', encoding);
    const answers = await Promise.all(
      ['br', 'gzip', 'identity', 'br', 'gzip', 'identity'].map((encoding) => ask(encoding)),
    );
    expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 200));
    expect(new Set(answers.map(({ headers }) => headers['etag'])).size).toBe(1);
    expect(own.renderer.count()).toBe(4);
  });
});

describe('a person’s pages travel', () => {
  it.each(['br', 'gzip', 'identity'])('as %s and read the same', async (encoding) => {
    const own = await sunday();
    const plain = await own.api.get(own.path).set('accept-encoding', 'identity').expect(200);
    const answer = await own.app.inject({
      url: own.path,
      headers: { 'accept-encoding': encoding, host: 'localhost' },
      remoteAddress: '127.0.0.1',
    });
    expect(answer.headers).toMatchObject({
      'content-type': 'application/json; charset=utf-8',
      'cache-control': 'private, no-cache',
      vary: 'accept-encoding',
      etag: plain.headers['etag'] as string,
      'content-length': String(answer.rawPayload.length),
    });
    expect(answer.headers['content-encoding']).toBe(encoding === 'identity' ? undefined : encoding);
    const sent = await own.api.get(own.path).set('accept-encoding', encoding);
    if (encoding !== 'br') expect(sent.body).toEqual(plain.body);
  });

  it('not at all to whoever has them: 304', async () => {
    const own = await sunday();
    const { headers } = await own.api.get(own.path).expect(200);
    const again = () => own.api.get(own.path).set('if-none-match', headers['etag'] as string);
    expect((await again().expect(304)).text).toBe('');
    await change(own.api, `/api/members/${own.ines.id}`, { name: 'Inez' });
    await again().expect(200);
  });
});

/** Each thing that is written, and what it brings onto the leader's or nobody's page. */
const WRITES: readonly [what: string, write: (own: Sunday) => Promise<unknown>, shows: string][] = [
  [
    'a song’s chord',
    ({ api, song }) => change(api, `/api/songs/${song.id}`, { chord: { at: 20160, symbol: 'Am' } }),
    'five shapes: Em, G, D7, Am, C',
  ],
  [
    'a deleted song',
    ({ api, song }) => api.delete(`/api/songs/${song.id}`).set('if-match', tagOf(1)).expect(204),
    'was deleted',
  ],
  [
    'the arrangement',
    ({ api, song }) =>
      change(api, `/api/songs/${song.id}/arrangement`, { key: { tonic: 'E', mode: 'major' } }),
    'E major',
  ],
  [
    'who usually leads the song',
    ({ api, song, ines }) =>
      change(api, `/api/songs/${song.id}/arrangement`, { lead: ines.id, singers: [ines.id] }),
    '"lead":"Ines"',
  ],
  [
    'a member’s name',
    ({ api, ines }) => change(api, `/api/members/${ines.id}`, { name: 'Inez' }),
    'for Inez',
  ],
  [
    'somebody else’s name',
    ({ api, ada }) => change(api, `/api/members/${ada.id}`, { name: 'Adah' }),
    '"name":"Adah"',
  ],
  [
    'the reach of a hand',
    ({ api, ines }) => change(api, `/api/members/${ines.id}`, { reach: 6 }),
    'A reach of 6 half steps',
  ],
  [
    'the service’s title',
    ({ api, service }) => change(api, `/api/services/${service.id}`, { title: 'Evensong' }),
    'Evensong',
  ],
  [
    'an item',
    ({ api, service, song, ines }) =>
      change(api, `/api/services/${service.id}`, {
        items: [songItem('item-0', song.id, { playedIn: { [ines.id]: 'F' } })],
      }),
    'keyboard set to +2',
  ],
  [
    'the people',
    ({ api, service, ines }) =>
      change(api, `/api/services/${service.id}`, {
        people: [{ member: ines.id, roles: ['leader', 'keys'] }],
      }),
    'No lead voice this week',
  ],
];

describe('what was made before a write is never sent after it', () => {
  it.each(WRITES)('%s', async (_, write, shows) => {
    const own = await sunday();
    expect((await own.api.get(own.path).expect(200)).text).not.toContain(shows);
    await write(own);
    expect((await own.api.get(own.path).expect(200)).text).toContain(shows);
  });

  it('also where it is written past the app', async () => {
    const own = await sunday();
    const tables = ['song', 'member', 'arrangement', 'service', 'serviceItem', 'servicePerson'];
    for (const table of tables) {
      await own.api.get(own.path).expect(200);
      expect((await statementsOf(own, own.path)).length).toBe(1);
      const [quoted, id] = [table.charAt(0).toUpperCase() + table.slice(1), 'teamId'];
      await own.database.$executeRawUnsafe(`UPDATE "${quoted}" SET "${id}" = "${id}"`);
      expect((await statementsOf(own, own.path)).length, table).toBeGreaterThan(1);
    }
  });

  it('never, however asking and writing fall together', async () => {
    const own = await sunday(2);
    let service: Service = own.service;
    for (let round = 0; round < 10; round++) {
      const title = `Sunday ${round}`;
      const asked = [own.api.get(own.path), own.api.get(own.path)];
      const written = change(own.api, `/api/services/${service.id}`, { title }, service.version);
      const [answer] = await Promise.all([written, ...asked]);
      service = answer.body as Service;
      const { body } = await own.api.get(own.path).expect(200);
      expect(body.service.title).toBe(title);
    }
  });
});

describe('GET /api/set/:link/pages/:member', () => {
  it('names no child anywhere, and keeps apart what the leader sees', async () => {
    const own = await sunday();
    const { api, service, song, ada, ines } = own;
    const form = [
      { section: 'verse', verse: 1 },
      { section: 'verse', verse: 2, lead: ines.id },
      { section: 'verse', verse: 3, lead: ada.id },
    ];
    await change(api, `/api/services/${service.id}`, {
      items: [songItem('item-0', song.id, { lead: ada.id, note: 'wink at Ada', form })],
    });
    const stored = (await api.get(`/api/services/${service.id}`).expect(200)).body as Service;
    expect(stored.items[0]?.form).toEqual(form);
    const leaders = (await api.get(own.path).expect(200)).text;
    expect(leaders).toContain('"lead":"Ada"');
    expect(leaders).toContain('wink at Ada');
    expect(leaders).toContain('"verses 1 and 3: Ada leads; verse 2: Ines leads"');
    const made = await makeLink(api, service.id);
    const cookie = await openLink(api, made);
    const ask = (member: string) =>
      api
        .get(`/api/set/${made.link.id}/pages/${member}`)
        .set(ELSEWHERE)
        .set('cookie', cookie)
        .expect(200);
    for (const member of [ines.id, ada.id]) {
      const { text, body, headers } = await ask(member);
      expect(text).not.toContain('Ada');
      expect(text).not.toContain('wink');
      expect(body.person.id).toBe(member);
      expect(headers['cache-control']).toBe('no-store');
    }
    expect((await ask(ada.id)).body.person.name).toBe('a lead voice');
    const byLink = (await ask(ines.id)).text;
    expect(byLink).toContain('"lead":"a lead voice"');
    expect(byLink).toContain('"verses 1 and 3: a lead voice leads; verse 2: Ines leads"');
    expect((await api.get(own.path).expect(200)).text).toBe(leaders);
  });

  it('costs one small statement while nothing changes', async () => {
    const own = await sunday();
    const made = await makeLink(own.api, own.service.id);
    const cookie = await openLink(own.api, made);
    const ask = () =>
      own.api
        .get(`/api/set/${made.link.id}/pages/${own.ines.id}`)
        .set(ELSEWHERE)
        .set('cookie', cookie)
        .expect(200);
    await ask();
    own.statements();
    await ask();
    expect(own.statements()).toHaveLength(1);
  });
});
