import { describe, expect, it } from 'vitest';
import type { Service } from '#server/contract/services.ts';
import { addMember, bringHymn, ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { addService, patchService, planService } from '#test/support/planned-service.ts';

const SUNDAY = { date: '2026-03-08' };

describe('POST /api/services', () => {
  it('adds a service with what is usual where nothing is said: 201, address, version', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/services').send(SUNDAY).expect(201);
    expect(answer.body).toEqual({
      id: answer.body.id,
      title: 'Sunday service',
      date: '2026-03-08',
      time: '10:30',
      zone: 'UTC',
      place: '',
      until: null,
      startsAt: '2026-03-08T10:30:00.000Z',
      items: [],
      people: [],
      version: 1,
      deletedAt: null,
    });
    expect(answer.headers).toMatchObject({
      location: `/api/services/${answer.body.id}`,
      etag: '"v1"',
    });
  });

  it('is called by its day of the week', async () => {
    const { api } = await ownApp();
    // ISO 8601: 2026-12-24 is day 4 of week 52.
    expect((await addService(api, { date: '2026-12-24' })).title).toBe('Thursday service');
    expect((await addService(api, { ...SUNDAY, title: ' Easter ' })).title).toBe('Easter');
  });

  it('is where the one made before it was, and lasts through the change of the clocks', async () => {
    const { api } = await ownApp();
    await addService(api, { ...SUNDAY, zone: 'Europe/Berlin' });
    // IANA tz database, rule EU: on that day 2:00 is followed by 3:00.
    const next = await addService(api, { date: '2026-03-29', time: '02:30' });
    expect(next).toMatchObject({ zone: 'Europe/Berlin', startsAt: '2026-03-29T01:30:00.000Z' });
  });

  it('keeps every field of the order and of the people', async () => {
    const { api } = await ownApp();
    const { service, song, ada, joel } = await planService(api);
    expect(service.items).toEqual([
      {
        id: 'first',
        kind: 'song',
        title: '',
        minutes: null,
        note: 'quietly',
        song: song.id,
        key: { tonic: 'F', mode: 'major' },
        lead: ada.id,
        form: [
          { section: 'verse', verse: 1 },
          { section: 'verse', verse: 3, texture: 'every beat', ending: 'quiet' },
        ],
        playedIn: { [joel.id]: 'C' },
        rungs: { [joel.id]: { left: 2, sections: { refrain: { right: 2, texture: 3 } } } },
        wayOn: 'loop',
      },
      {
        id: 'second',
        kind: 'reading',
        title: 'Psalm 23',
        minutes: 3,
        note: '',
        song: null,
        key: null,
        lead: joel.id,
        form: null,
        playedIn: {},
        rungs: {},
        wayOn: null,
      },
    ]);
    expect(service.people).toEqual([
      { member: ada.id, roles: ['lead voice'], voice: { low: 'G3', high: 'B4' } },
      { member: joel.id, roles: ['keys', 'leader'], voice: null },
    ]);
    expect((await api.get(`/api/services/${service.id}`)).body).toEqual(service);
  });

  it('takes a song without key, lead and form: they are as usual', async () => {
    const { api } = await ownApp();
    const { id } = await bringHymn(api);
    const { items } = await addService(api, {
      ...SUNDAY,
      items: [{ id: 'a', kind: 'song', song: id }],
    });
    expect(items).toMatchObject([{ song: id, key: null, lead: null, form: null, minutes: null }]);
  });
});

describe('POST /api/services with `from`', () => {
  it('takes over the order and the people, with lines of its own and without the voices', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const next = await addService(api, { date: '2026-03-15', from: service.id });
    expect(next).toEqual({
      ...service,
      id: next.id,
      date: '2026-03-15',
      startsAt: '2026-03-15T09:30:00.000Z',
      items: service.items.map((item, at) => ({ ...item, id: next.items[at]?.id })),
      people: service.people.map((person) => ({ ...person, voice: null })),
      version: 1,
    });
    const ids = new Set([...service.items, ...next.items].map(({ id }) => id));
    expect(ids.size).toBe(4);
    expect((await api.get(`/api/services/${service.id}`)).body).toEqual(service);
  });

  it('prefers what is said', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const said = { title: 'Evening', time: '18:00', zone: 'UTC', place: 'Hall', items: [] };
    const next = await addService(api, { date: '2026-03-15', from: service.id, ...said });
    expect(next).toMatchObject(said);
    expect(next.people).toHaveLength(2);
  });

  it('leaves out whoever left the team, and keeps the line of a song that was deleted', async () => {
    const { api } = await ownApp();
    const { service, song, ada, joel } = await planService(api);
    await api.delete(`/api/members/${ada.id}`).set('if-match', tagOf(1)).expect(204);
    await api.delete(`/api/songs/${song.id}`).set('if-match', tagOf(1)).expect(204);
    const next = await addService(api, { date: '2026-03-15', from: service.id });
    expect(next.people.map(({ member }) => member)).toEqual([joel.id]);
    expect(next.items).toMatchObject([{ song: song.id, lead: null }, { lead: joel.id }]);
  });

  it('answers 404 where there is none of that name', async () => {
    const { api } = await ownApp();
    const answer = await api.post('/api/services').send({ ...SUNDAY, from: 'none' });
    expectProblem(answer, 'no-such-service');
    expect((await api.get('/api/services')).body).toEqual({ services: [] });
  });
});

describe('GET /api/services', () => {
  it('lists by date, with titles in order, and says what is over where it takes place', async () => {
    const now = () => new Date('2026-03-08T11:30:00Z');
    const { api } = await ownApp({}, { now });
    const { service } = await planService(api);
    // It is half past midnight of the next day there (Auckland: UTC+13 in March, IANA tz database).
    const past = await addService(api, { ...SUNDAY, time: '09:00', zone: 'Pacific/Auckland' });
    const evening = await addService(api, { ...SUNDAY, time: '20:00', zone: 'UTC' });
    const before = await addService(api, { date: '2026-02-01' });
    const { body } = await api.get('/api/services').expect(200);
    expect(body.services.map(({ id, over }: { id: string; over: boolean }) => [id, over])).toEqual([
      [before.id, true],
      [past.id, true],
      [service.id, false],
      [evening.id, false],
    ]);
    expect(body.services[2]).toEqual({
      id: service.id,
      title: 'Sunday service',
      date: '2026-03-08',
      time: '10:30',
      zone: 'Europe/Berlin',
      place: 'Mill Lane',
      startsAt: '2026-03-08T09:30:00.000Z',
      over: false,
      songs: ['Amazing Grace'],
      people: 2,
      version: 1,
      deletedAt: null,
    });
  });
});

describe('GET /api/services/:id', () => {
  it('gives the service, or 404', async () => {
    const { api } = await ownApp();
    const { id } = await addService(api, SUNDAY);
    expect((await api.get(`/api/services/${id}`).expect(200)).headers['etag']).toBe('"v1"');
    expectProblem(await api.get('/api/services/none'), 'no-such-service');
  });

  it('gives back what was deleted since, and a change may keep it', async () => {
    const { api } = await ownApp();
    const { service, song: hymn, ada, joel } = await planService(api);
    await api.delete(`/api/songs/${hymn.id}`).set('if-match', tagOf(1)).expect(204);
    for (const { id } of [ada, joel])
      await api.delete(`/api/members/${id}`).set('if-match', tagOf(1)).expect(204);
    expect((await api.get(`/api/services/${service.id}`)).body).toEqual(service);
    const items = [...service.items].reverse();
    const moved = await patchService(api, service, { items, people: service.people });
    expect(moved.body).toEqual({ ...service, items, version: 2 });
    const { body } = await api.get('/api/services');
    expect(body.services).toMatchObject([{ songs: ['Amazing Grace'], people: 2 }]);
  });
});

describe('PATCH /api/services/:id', () => {
  it('changes what is said, leaves the rest, and is undone by sending what was', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const changes: Partial<Service>[] = [
      { title: 'Easter' },
      { date: '2026-04-05' },
      { time: '06:00' },
      { zone: 'America/New_York' },
      { place: 'On the hill' },
      { items: service.items.slice(1) },
      { items: [] },
      { people: [{ member: joel.id, roles: ['bass'], voice: { low: 'C3', high: 'C4' } }] },
      { people: [] },
    ];
    let now = service;
    for (const change of changes) {
      const done = (await patchService(api, now, change).expect(200)).body as Service;
      expect({ ...done, startsAt: '' }).toEqual({
        ...service,
        ...change,
        startsAt: '',
        version: now.version + 1,
      });
      const before = Object.fromEntries(
        Object.keys(change).map((field) => [field, service[field as keyof Service]]),
      );
      now = (await patchService(api, done, before).expect(200)).body as Service;
      expect(now).toEqual({ ...service, version: done.version + 1 });
    }
  });

  it('moves the instant with date, time and zone', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const summer = { date: '2026-04-05', time: '06:00' };
    const { body } = await patchService(api, service, summer).expect(200);
    expect(body.startsAt).toBe('2026-04-05T04:00:00.000Z');
  });

  it('writes a voice of this week into the service alone', async () => {
    const { api } = await ownApp();
    const { service, ada } = await planService(api);
    expect(service.people[0]?.voice).toEqual({ low: 'G3', high: 'B4' });
    expect((await api.get(`/api/members/${ada.id}`)).body).toEqual(ada);
  });

  it('keeps a role once', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const people = [{ member: joel.id, roles: ['keys', 'bass', 'keys'] }];
    const { body } = await patchService(api, service, { people }).expect(200);
    expect(body.people).toEqual([{ member: joel.id, roles: ['keys', 'bass'], voice: null }]);
  });

  it('answers 428, 412, 400 and 404, and changes nothing then', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const path = `/api/services/${service.id}`;
    expectProblem(await api.patch(path).send({ title: 'Easter' }), 'version-required');
    const stale = { ...service, version: 2 };
    expectProblem(await patchService(api, stale, { title: 'Easter' }), 'stale-version');
    expectProblem(await patchService(api, service, {}), 'invalid-input');
    const none = { ...service, id: 'none' };
    expectProblem(await patchService(api, none, { title: 'Easter' }), 'no-such-service');
    expect((await api.get(path)).body).toEqual(service);
  });

  it('lets one of two writers win and tells the other', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const [one, two] = await Promise.all([
      patchService(api, service, { items: [] }),
      patchService(api, service, { people: [] }),
    ]);
    expect([one.status, two.status].sort()).toEqual([200, 412]);
    const { body } = await api.get(`/api/services/${service.id}`);
    expect(body.version).toBe(2);
    expect(body.items.length + body.people.length).toBe(2);
  });

  it('answers 413 and 415 as every write does', async () => {
    const { api } = await ownApp();
    const large = { ...SUNDAY, title: 'x'.repeat(2 * 1024 * 1024) };
    expectProblem(await api.post('/api/services').send(large), 'too-large');
    expectProblem(await api.post('/api/services').type('text/plain').send('a'), 'wrong-media-type');
  });
});

describe('DELETE /api/services/:id and POST /api/services/:id/restore', () => {
  it('hides the service and brings it back as it was', async () => {
    const { api } = await ownApp();
    const { service } = await planService(api);
    const path = `/api/services/${service.id}`;
    expectProblem(await api.delete(path), 'version-required');
    expectProblem(await api.delete(path).set('if-match', tagOf(3)), 'stale-version');
    const gone = await api.delete(path).set('if-match', tagOf(1)).expect(204);
    expect(gone.headers['etag']).toBe('"v2"');
    expectProblem(await api.get(path), 'no-such-service');
    expectProblem(await patchService(api, service, { title: 'Easter' }), 'no-such-service');
    expect((await api.get('/api/services')).body).toEqual({ services: [] });
    const { body: hidden } = await api.get('/api/services?deleted=1').expect(200);
    expect(hidden.services).toMatchObject([{ id: service.id, version: 2 }]);
    expect(hidden.services[0].deletedAt).not.toBeNull();
    expectProblem(await api.post(`${path}/restore`).set('if-match', tagOf(1)), 'stale-version');
    const restored = await api.post(`${path}/restore`).expect(200);
    expect(restored.body).toEqual({ ...service, version: 3 });
    expectProblem(await api.post(`${path}/restore`), 'no-such-service');
    const none = api.delete('/api/services/none').set('if-match', tagOf(1));
    expectProblem(await none, 'no-such-service');
  });
});

describe('a read of services takes a fixed few statements', () => {
  it('as many for a full Sunday as for an empty one', async () => {
    const { api, statements } = await ownApp();
    const count = async (path: string) => {
      statements();
      await api.get(path).expect(200);
      // Who asks is found out before, and is no part of the answer.
      return statements().filter((sql) => /^SELECT .*`(Service\w*|Song)`/.test(sql)).length;
    };
    const { service, song: hymn } = await planService(api);
    const path = `/api/services/${service.id}`;
    const small = [await count('/api/services'), await count(path)];
    const members = await Promise.all(
      Array.from({ length: 10 }, (_, at) => addMember(api, { name: `Singer ${at}` })),
    );
    const items = Array.from({ length: 100 }, (_, at) => ({
      id: `line-${at}`,
      kind: 'song',
      song: hymn.id,
      lead: members[at % 10]?.id,
    }));
    const people = members.map(({ id }) => ({ member: id, roles: ['harmony voice'] }));
    await patchService(api, service, { items, people }).expect(200);
    for (let more = 0; more < 12; more += 1) await addService(api, { ...SUNDAY, from: service.id });
    expect([await count('/api/services'), await count(path)]).toEqual(small);
    expect(small).toEqual([3, 3]);
  });
});
