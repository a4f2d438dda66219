import { describe, expect, it } from 'vitest';
import { Congregation, KeyFit } from '#music';
import type { BestOrderAnswer } from '#server/contract/best-order.ts';
import type { KeyFitAnswer } from '#server/contract/key-fit.ts';
import type { Team } from '#server/contract/team.ts';
import { addMember, bringHymn, ownApp, tagOf, type TestApp } from '#test/support/api.ts';
import { addService, patchService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';

/** Sends a change of the team at a version. */
const change = (api: TestApp['api'], version: number, body: object) =>
  api.patch('/api/team').set('if-match', tagOf(version)).send(body);

describe('GET /api/team', () => {
  it('says name, demo and version, and nothing of the passphrase', async () => {
    const { api, teamId } = await ownApp();
    const answer = await api.get('/api/team').expect(200);
    const usual = { demo: null, congregation: null, room: null };
    expect(answer.body).toEqual({ id: teamId, name: 'Mill Lane', ...usual, version: 1 });
    expect(answer.headers['etag']).toBe('"v1"');
  });
});

describe('PATCH /api/team', () => {
  it('names the team, and is undone by sending the name it had', async () => {
    const { api, teamId } = await ownApp();
    const named = await change(api, 1, { name: '  Hill Road ' }).expect(200);
    expect(named.body).toMatchObject({ id: teamId, name: 'Hill Road', demo: null, version: 2 });
    expect(named.headers['etag']).toBe('"v2"');
    await change(api, 2, { name: 'Mill Lane' }).expect(200);
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'Mill Lane', version: 3 });
  });

  it('answers 428, 412, 400, 413 and 415, and changes nothing then', async () => {
    const { api } = await ownApp();
    const name = 'Hill Road';
    expectProblem(await api.patch('/api/team').send({ name }), 'version-required');
    expectProblem(await change(api, 2, { name }), 'stale-version');
    expectProblem(await change(api, 1, {}), 'invalid-input');
    expectProblem(await change(api, 1, { name: ' ' }), 'invalid-input');
    const demo = expectProblem(await change(api, 1, { demo: 'gone' }), 'invalid-input');
    expect(demo.detail).toBe(
      'What becomes of the demo must be “offered”, “kept” or “cleared”; “gone” is not. Nothing was changed.',
    );
    expectProblem(await change(api, 1, { name: 'x'.repeat(2 * 1024 * 1024) }), 'too-large');
    const text = api.patch('/api/team').set('if-match', tagOf(1)).type('text/plain').send('a');
    expectProblem(await text, 'wrong-media-type');
    expect((await api.get('/api/team')).body).toMatchObject({ name: 'Mill Lane', version: 1 });
  });

  it('lets one of two writers win and tells the other', async () => {
    const { api } = await ownApp();
    const answers = await Promise.all(['A', 'B'].map((name) => change(api, 1, { name })));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412]);
  });
});

describe('How the congregation sings', () => {
  it('is a published guideline or a range of one’s own, and is undone by sending what it was', async () => {
    const { api } = await ownApp();
    const asked = async () => ((await api.get('/api/team')).body as Team).congregation;
    expect(await asked()).toBeNull();
    await change(api, 1, { congregation: 'one-octave' }).expect(200);
    expect(await asked()).toBe('one-octave');
    const own = { low: 'B3', high: 'C5' };
    const answer = await change(api, 2, { congregation: own }).expect(200);
    expect(answer.body).toMatchObject({ congregation: own, room: null, version: 3 });
    await change(api, 3, { congregation: 'one-octave' }).expect(200);
    expect(await asked()).toBe('one-octave');
    await change(api, 4, { congregation: null }).expect(200);
    expect(await asked()).toBeNull();
  });

  it.each([
    [{ low: 'D5', high: 'A3' }, 'congregation', 'The lowest note, D5, lies above the highest, A3.'],
    [
      { low: 'C0', high: 'A4' },
      'congregation',
      'C0 lies beyond the piano; nobody is asked to sing it.',
    ],
    [
      'everybody',
      'congregation',
      'The voice of the congregation must be a guideline that is on the list, a lowest and a highest note, or nothing where it is as usual; “everybody” is not.',
    ],
    [
      { low: 'H3', high: 'C5' },
      'congregation.low',
      'The lowest note of the congregation must be a pitch such as A3; “H3” is not.',
    ],
    [
      { low: 'A3' },
      'congregation',
      'The voice of the congregation must be a guideline that is on the list, a lowest and a highest note, or nothing where it is as usual.',
    ],
  ])('is refused as %j in a sentence, and stays as it was', async (congregation, field, words) => {
    const { api } = await ownApp();
    await change(api, 1, { congregation: 'one-octave' }).expect(200);
    const refused = expectProblem(await change(api, 2, { congregation }), 'invalid-input');
    expect(refused.detail).toBe(`${words} Nothing was changed.`);
    expect(refused.problems?.[0]?.field).toBe(field);
    const stays = { congregation: 'one-octave', version: 2 };
    expect((await api.get('/api/team')).body).toMatchObject(stays);
  });

  it('is what key fit and the best order count with, unless another is asked for', async () => {
    const { api } = await ownApp();
    const song = await bringHymn(api);
    const fit = async (query = '') =>
      (await api.get(`/api/songs/${song.id}/key-fit${query}`).expect(200)).body as KeyFitAnswer;
    const tableOf = (room: Parameters<typeof Congregation.voice>[0]) =>
      JSON.parse(JSON.stringify(KeyFit.table(song.score, [Congregation.voice(room)]))) as object;
    const own = { low: 'B2', high: 'C4' };
    await change(api, 1, { congregation: own }).expect(200);
    expect(await fit()).toMatchObject({ congregation: own, table: tableOf(own) });
    expect(await fit('?congregation=one-octave')).toMatchObject({
      congregation: 'one-octave',
      table: tableOf('one-octave'),
    });

    const ruth = await addMember(api, {
      name: 'Ruth',
      roles: ['lead voice'],
      comfortable: { low: 'F3', high: 'F5' },
    });
    const service = await addService(api, { date: '2026-03-08' });
    await patchService(api, service, {
      items: [{ id: 'a', kind: 'song', song: song.id }],
      people: [{ member: ruth.id, roles: ['lead voice'] }],
    }).expect(200);
    const best = async () => {
      const { body } = await api
        .post(`/api/services/${service.id}/best-order`)
        .send({})
        .expect(200);
      return (body as BestOrderAnswer).plans[0]?.lines[0];
    };
    const high = await best();
    // Two octaves below: nobody of the room is there, and it costs.
    expect(high?.costs.some(({ kind }) => kind === 'room')).toBe(true);
    await change(api, 2, { congregation: { low: 'C3', high: 'C6' } }).expect(200);
    const wide = await best();
    expect(wide?.costs.some(({ kind }) => kind === 'room')).toBe(false);
  });
});

describe('Who is in the room', () => {
  it('is kept as numbers of people, and undone by sending what it was', async () => {
    const { api } = await ownApp();
    const room = { women: 18, men: 9, 'women over 65': 12, children: 0 };
    expect((await change(api, 1, { room }).expect(200)).body).toMatchObject({ room, version: 2 });
    expect((await api.get('/api/team')).body).toMatchObject({ room, congregation: null });
    const undone = await change(api, 2, { room: null }).expect(200);
    expect(undone.body).toMatchObject({ room: null, version: 3 });
  });

  it.each([
    [{ women: -1 }, 'The number of women must be a whole number from 0 to 10,000; -1 is not.'],
    [
      { 'men over 65': 2.5 },
      'The number of men over 65 must be a whole number from 0 to 10,000; 2.5 is not.',
    ],
    [
      { children: 'some' },
      'The number of children must be a whole number from 0 to 10,000; “some” is not.',
    ],
    [
      { angels: 7 },
      'Who is in the room must be numbers of women, men, women over 65, men over 65 and children, or nothing where it is as usual.',
    ],
  ])('is refused as %j in a sentence', async (room, words) => {
    const { api } = await ownApp();
    const refused = expectProblem(await change(api, 1, { room }), 'invalid-input');
    expect(refused.detail).toBe(`${words} Nothing was changed.`);
    expect((await api.get('/api/team')).body).toMatchObject({ room: null, version: 1 });
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
      ['the name', () => change(api, 1, { name: 'Hill Road' })],
      ['the room', () => change(api, 2, { room: { women: 7 } })],
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
    expectProblem(await change(api, 1, { name: 'Late' }), 'stale-version');
    expect(await stamp()).toBe(before);
  });
});
