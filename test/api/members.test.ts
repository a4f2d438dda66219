import { describe, expect, it } from 'vitest';
import { addMember, ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

const ALTO = {
  name: 'Ruth',
  roles: ['lead voice' as const],
  comfortable: { low: 'A3', high: 'B4' },
  limit: { low: 'F3', high: 'D5' },
};

describe('POST /api/members', () => {
  it('adds a member with what is usual where nothing is said: 201, address, version', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/members').send({ name: '  Ruth ' }).expect(201);
    expect(answer.body).toEqual({
      id: answer.body.id,
      name: 'Ruth',
      roles: [],
      level: 'beginner',
      levels: {},
      instruments: {},
      reach: 12,
      comfortable: null,
      limit: null,
      child: false,
      rangeMarkedAt: null,
      version: 1,
      deletedAt: null,
    });
    expect(answer.headers).toMatchObject({
      location: `/api/members/${answer.body.id}`,
      etag: '"v1"',
    });
  });

  it('keeps the spelling of pitches', async () => {
    const { api } = await ownApp();
    const flat = { low: 'Bb3', high: 'Eb5' };
    expect(await addMember(api, { name: 'Ruth', comfortable: flat })).toMatchObject({
      comfortable: flat,
    });
  });

  it.each([
    ['no name', { name: '  ' }, 'name'],
    ['a very long name', { name: 'x'.repeat(81) }, 'name'],
    ['an unknown role', { name: 'Ruth', roles: ['tuba'] }, 'roles.0'],
    ['an unknown level', { name: 'Ruth', level: 'genius' }, 'level'],
    ['a hand that spans three notes', { name: 'Ruth', reach: 3 }, 'reach'],
    ['half a range', { name: 'Ruth', comfortable: { low: 'A3' } }, 'comfortable.high'],
    [
      'a note without its octave',
      { name: 'Ruth', comfortable: { low: 'A', high: 'C5' } },
      'comfortable.low',
    ],
    [
      'a flat sign that is no letter b',
      { name: 'Ruth', comfortable: { low: 'B♭3', high: 'C5' } },
      'comfortable.low',
    ],
    [
      'a range upside down',
      { name: 'Ruth', comfortable: { low: 'C5', high: 'A3' } },
      'comfortable',
    ],
    [
      'furthest notes inside the comfortable ones',
      { ...ALTO, limit: { low: 'B3', high: 'D5' } },
      'limit',
    ],
  ])('answers 400 with the path of the field for %s', async (_, body, field) => {
    const { api } = await ownApp();
    const problem = expectProblem(await api.post('/api/members').send(body), 'invalid-input');
    expect(problem.problems?.map((each) => each.field)).toEqual([field]);
    expect((await api.get('/api/members')).body).toEqual({ members: [] });
  });

  it.each([
    [
      { name: 'Ruth', comfortable: { low: 'H9', high: 'C5' } },
      'The lowest comfortable note must be a pitch such as A3; “H9” is not. Nothing was changed.',
    ],
    [{ name: '' }, 'The name must be of 1 to 80 letters. Nothing was changed.'],
    [
      { name: 'Ruth', reach: 'wide' },
      'The reach of a hand must be a whole number of half steps from 5 to 19; “wide” is not. Nothing was changed.',
    ],
    [
      { name: 'Ruth', roles: ['tuba'] },
      'A role must be keys, bass, guitar, drums, lead voice, harmony voice or leader; “tuba” is not. Nothing was changed.',
    ],
    ['text', 'What was sent is not what fits here. Nothing was changed.'],
  ])('says in the trade’s words what to mend in %j', async (body, detail) => {
    const { api } = await ownApp();
    const sent = api.post('/api/members').type('application/json').send(JSON.stringify(body));
    expect(expectProblem(await sent, 'invalid-input').detail).toBe(detail);
  });

  it('names both ranges where one should enclose the other', async () => {
    const { api } = await ownApp();
    const answer = await api
      .post('/api/members')
      .send({ ...ALTO, limit: { low: 'B3', high: 'D5' } });
    expect(expectProblem(answer, 'invalid-input').detail).toContain('B3 to D5');
  });

  it('answers 413 and 415 as every write does', async () => {
    const { api } = await ownApp();
    const large = { name: 'x'.repeat(2 * 1024 * 1024) };
    expectProblem(await api.post('/api/members').send(large), 'too-large');
    expectProblem(await api.post('/api/members').type('text/plain').send('a'), 'wrong-media-type');
  });
});

describe('GET /api/members', () => {
  it('lists the members by name', async () => {
    const { api } = await ownApp();
    for (const name of ['Ruth', 'Ada', 'Joel']) await addMember(api, { name });
    const { body } = await api.get('/api/members').expect(200);
    expect(body.members.map((member: { name: string }) => member.name)).toEqual([
      'Ada',
      'Joel',
      'Ruth',
    ]);
  });
});

describe('GET /api/members/:id', () => {
  it('gives the member, or 404', async () => {
    const { api } = await ownApp();
    const member = await addMember(api, ALTO);
    const answer = await api.get(`/api/members/${member.id}`).expect(200);
    expect(answer.body).toEqual(member);
    expect(answer.headers['etag']).toBe('"v1"');
    expectProblem(await api.get('/api/members/none'), 'no-such-member');
  });
});

describe('PATCH /api/members/:id', () => {
  it('changes what is said and leaves the rest', async () => {
    const { api } = await ownApp();
    const member = await addMember(api, ALTO);
    const wider = { low: 'G3', high: 'C5' };
    const { body } = await api
      .patch(`/api/members/${member.id}`)
      .set('if-match', tagOf(1))
      .send({ comfortable: wider })
      .expect(200);
    const { rangeMarkedAt } = body;
    expect(body).toEqual({ ...member, comfortable: wider, rangeMarkedAt, version: 2 });
    const none = await api
      .patch(`/api/members/${member.id}`)
      .set('if-match', tagOf(2))
      .send({ comfortable: null, limit: null, child: true })
      .expect(200);
    expect(none.body).toMatchObject({ comfortable: null, limit: null, child: true, version: 3 });
  });

  it('notes when the comfortable range was marked, the same one anew too, and nothing else', async () => {
    let now = new Date('2026-03-03T10:00:00Z');
    const { api } = await ownApp({}, { now: () => now });
    const member = await addMember(api, ALTO);
    expect(member.rangeMarkedAt).toBe('2026-03-03T10:00:00.000Z');
    let version = 1;
    const change = async (day: string, body: object): Promise<unknown> => {
      now = new Date(`${day}T10:00:00Z`);
      const patch = api.patch(`/api/members/${member.id}`).set('if-match', tagOf(version));
      version += 1;
      return (await patch.send(body).expect(200)).body.rangeMarkedAt;
    };
    const other = { name: 'Ruth B.', limit: { low: 'E3', high: 'D5' } };
    expect(await change('2026-05-01', other)).toBe('2026-03-03T10:00:00.000Z');
    const same = { comfortable: ALTO.comfortable };
    expect(await change('2027-03-03', same)).toBe('2027-03-03T10:00:00.000Z');
    // A step back brings an earlier range with its day, but never one that is still to come.
    const earlier = {
      comfortable: { low: 'G3', high: 'B4' },
      rangeMarkedAt: '2026-03-03T10:00:00Z',
    };
    expect(await change('2027-03-04', earlier)).toBe('2026-03-03T10:00:00.000Z');
    const later = { ...earlier, rangeMarkedAt: '2030-01-01T00:00:00Z' };
    expect(await change('2027-03-05', later)).toBe('2027-03-05T10:00:00.000Z');
    expect(await change('2027-03-06', { ...earlier, rangeMarkedAt: null })).toBeNull();
    expect(await change('2027-04-01', { comfortable: null })).toBeNull();
    expect(await change('2027-04-02', { reach: 10 })).toBeNull();
  });

  it('answers 428, 412, 400 and 404, and changes nothing then', async () => {
    const { api } = await ownApp();
    const member = await addMember(api, ALTO);
    const path = `/api/members/${member.id}`;
    expectProblem(await api.patch(path).send({ name: 'Ann' }), 'version-required');
    const stale = api.patch(path).set('if-match', tagOf(2)).send({ name: 'Ann' });
    expectProblem(await stale, 'stale-version');
    expectProblem(await api.patch(path).set('if-match', tagOf(1)).send({}), 'invalid-input');
    const wrong = { comfortable: { low: 'D3', high: 'B4' } };
    expectProblem(await api.patch(path).set('if-match', tagOf(1)).send(wrong), 'invalid-input');
    const nobody = api.patch('/api/members/none').set('if-match', tagOf(1)).send({ name: 'Ann' });
    expectProblem(await nobody, 'no-such-member');
    expect((await api.get(path)).body).toEqual(member);
  });

  it('lets one of two writers win and tells the other', async () => {
    const { api } = await ownApp();
    const { id } = await addMember(api, ALTO);
    const write = (name: string) =>
      api.patch(`/api/members/${id}`).set('if-match', tagOf(1)).send({ name });
    const [one, two] = await Promise.all([write('Ann'), write('Beth')]);
    expect([one.status, two.status].sort()).toEqual([200, 412]);
  });
});

describe('DELETE /api/members/:id and POST /api/members/:id/restore', () => {
  it('hides the member and brings them back as they were', async () => {
    const { api } = await ownApp();
    const member = await addMember(api, ALTO);
    const path = `/api/members/${member.id}`;
    expectProblem(await api.delete(path), 'version-required');
    expectProblem(await api.delete(path).set('if-match', tagOf(3)), 'stale-version');
    await api.delete(path).set('if-match', tagOf(1)).expect(204);
    expectProblem(await api.get(path), 'no-such-member');
    expect((await api.get('/api/members')).body).toEqual({ members: [] });
    const { body: hidden } = await api.get('/api/members?deleted=1').expect(200);
    expect(hidden.members).toMatchObject([{ id: member.id, version: 2 }]);
    expectProblem(await api.post(`${path}/restore`).set('if-match', tagOf(1)), 'stale-version');
    const restored = await api.post(`${path}/restore`).expect(200);
    expect(restored.body).toEqual({ ...member, version: 3 });
    expectProblem(await api.post(`${path}/restore`), 'no-such-member');
    expectProblem(
      await api.delete('/api/members/none').set('if-match', tagOf(1)),
      'no-such-member',
    );
  });
});
