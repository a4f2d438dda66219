import { describe, expect, it } from 'vitest';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { addService, patchService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';

const rename = (api: TestApp['api'], version: number, body: object) =>
  api.patch('/api/team').set('if-match', tagOf(version)).send(body);

describe('GET /api/team', () => {
  it('says name, demo and version, and nothing of the passphrase', async () => {
    const { api, teamId } = await ownApp();
    const answer = await api.get('/api/team').expect(200);
    expect(answer.body).toEqual({ id: teamId, name: 'Mill Lane', demo: null, version: 1 });
    expect(answer.headers['etag']).toBe('"v1"');
  });
});

describe('PATCH /api/team', () => {
  it('names the team, and is undone by sending the name it had', async () => {
    const { api, teamId } = await ownApp();
    const named = await rename(api, 1, { name: '  Hill Road ' }).expect(200);
    expect(named.body).toEqual({ id: teamId, name: 'Hill Road', demo: null, version: 2 });
    expect(named.headers['etag']).toBe('"v2"');
    await rename(api, 2, { name: 'Mill Lane' }).expect(200);
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'Mill Lane', version: 3 });
  });

  it('answers 428, 412, 400, 413 and 415, and changes nothing then', async () => {
    const { api } = await ownApp();
    const name = 'Hill Road';
    expectProblem(await api.patch('/api/team').send({ name }), 'version-required');
    expectProblem(await rename(api, 2, { name }), 'stale-version');
    expectProblem(await rename(api, 1, {}), 'invalid-input');
    expectProblem(await rename(api, 1, { name: ' ' }), 'invalid-input');
    const demo = expectProblem(await rename(api, 1, { demo: 'gone' }), 'invalid-input');
    expect(demo.detail).toBe(
      'What becomes of the demo must be “offered”, “kept” or “cleared”; “gone” is not. Nothing was changed.',
    );
    expectProblem(await rename(api, 1, { name: 'x'.repeat(2 * 1024 * 1024) }), 'too-large');
    const text = api.patch('/api/team').set('if-match', tagOf(1)).type('text/plain').send('a');
    expectProblem(await text, 'wrong-media-type');
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'Mill Lane', version: 1 });
  });

  it('lets one of two writers win and tells the other', async () => {
    const { api } = await ownApp();
    const answers = await Promise.all(['A', 'B'].map((name) => rename(api, 1, { name })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412]);
  });
});

describe('The stamp of a team', () => {
  it('moves with every change of anything the team has, and with nothing else', async () => {
    const { api, store, teamId } = await ownApp();
    const stamp = async () => (await store.forTeam(teamId).everyRequest.stamp()) ?? -1;
    const song = await bringHymn(api);
    const member = await addMember(api, { name: 'Ruth' });
    const service = await addService(api, { date: '2026-03-08' });
    let before = await stamp();
    const changes: [string, () => PromiseLike<{ status: number }>][] = [
      ['the name', () => rename(api, 1, { name: 'Hill Road' })],
      ['a service', () => patchService(api, service, { title: 'Easter' })],
      [
        'an order',
        () =>
          patchService(
            api,
            { ...service, version: 2 },
            { items: [{ id: 'a', kind: 'song', song: song.id }] },
          ),
      ],
      [
        'the people of a service',
        () =>
          patchService(
            api,
            { ...service, version: 3 },
            { people: [{ member: member.id, roles: [] }] },
          ),
      ],
      [
        'a member',
        () => api.patch(`/api/members/${member.id}`).set('if-match', tagOf(1)).send({ reach: 14 }),
      ],
      [
        'an arrangement',
        () =>
          api
            .patch(`/api/songs/${song.id}/arrangement`)
            .set('if-match', tagOf(1))
            .send({ lead: member.id }),
      ],
      ['a song', () => api.delete(`/api/songs/${song.id}`).set('if-match', tagOf(1))],
      [
        'a service that goes',
        () => api.delete(`/api/services/${service.id}`).set('if-match', tagOf(4)),
      ],
    ];
    for (const [what, change] of changes) {
      expect((await change()).status, what).toBeLessThan(300);
      const after = await stamp();
      expect(after, what).toBeGreaterThan(before);
      before = after;
    }
    for (const path of ['team', 'songs', 'members', 'services']) await api.get(`/api/${path}`);
    expectProblem(await rename(api, 1, { name: 'Late' }), 'stale-version');
    expect(await stamp()).toBe(before);
  });
});
