import { createHash } from 'node:crypto';
import type { NetworkInterfaceInfo } from 'node:os';
import { describe, expect, it } from 'vitest';
import { findAddresses } from '#server/services/find-addresses.ts';
import { ownApp, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { addService, makeLink } from '#test/support/visitors.ts';

describe('POST /api/services/:id/links', () => {
  it('makes a link of 256 bits of chance, says its secret this once and keeps its hash', async () => {
    const { api, database } = await ownApp();
    const service = await addService(api);
    const answer = await api.post(`/api/services/${service.id}/links`).send({}).expect(201);
    const { link, secret, path } = answer.body;
    expect(answer.headers).toMatchObject({ etag: '"v1"', 'cache-control': 'no-store' });
    expect(Buffer.from(secret, 'base64url')).toHaveLength(32);
    expect(path).toBe(`/s/${link.id}#${secret}`);
    const row = await database.setLink.findFirstOrThrow();
    expect(row.secretHash).toBe(createHash('sha256').update(secret).digest('base64url'));
    expect(JSON.stringify(row)).not.toContain(secret);
    const { body } = await api.get(`/api/services/${service.id}/links`).expect(200);
    expect(body).toEqual({ links: [link] });
    expect((await makeLink(api, service.id)).secret).not.toBe(secret);
  });

  // Offsets of Berlin and Auckland at those dates: IANA time zone database.
  it.each([
    ['2026-03-08', 'Europe/Berlin', '2026-03-09T23:00:00.000Z'],
    ['2026-03-28', 'Europe/Berlin', '2026-03-29T22:00:00.000Z'],
    ['2026-03-08', 'Pacific/Auckland', '2026-03-09T11:00:00.000Z'],
    ['2026-12-31', 'UTC', '2027-01-02T00:00:00.000Z'],
  ])('ends with the day after %s in %s unless told otherwise', async (date, zone, endsAt) => {
    const { api } = await ownApp();
    const { id } = await addService(api, { date, zone });
    expect((await makeLink(api, id)).link).toEqual({
      id: expect.any(String),
      service: id,
      state: 'open',
      marksRanges: false,
      endsAt,
      createdAt: '2026-03-01T10:00:00.000Z',
      version: 1,
    });
    const chosen = { marksRanges: false, endsAt: '2026-05-01T00:00:00.000Z' };
    expect((await makeLink(api, id, chosen)).link).toMatchObject(chosen);
  });

  it('that ends by itself goes with a service that moves; a chosen end stays', async () => {
    const { api } = await ownApp();
    const { id } = await addService(api);
    const { link } = await makeLink(api, id);
    await makeLink(api, id, { endsAt: '2026-03-12T00:00:00.000Z' });
    const move = (version: number, date: string) =>
      api.patch(`/api/services/${id}`).set('if-match', tagOf(version)).send({ date }).expect(200);
    const ends = async () => {
      const { body } = await api.get(`/api/services/${id}/links`);
      return body.links.map((each: { endsAt: string }) => each.endsAt);
    };
    await move(1, '2026-03-15');
    expect(await ends()).toEqual(['2026-03-16T23:00:00.000Z', '2026-03-12T00:00:00.000Z']);
    await move(2, '2026-03-08');
    expect(await ends()).toEqual([link.endsAt, '2026-03-12T00:00:00.000Z']);
  });

  it('answers 404 where there is no such service, and 400, 413, 415 as every write does', async () => {
    const { api } = await ownApp();
    const service = await addService(api);
    const post = (id: string) => api.post(`/api/services/${id}/links`);
    expectProblem(await post('none').send({}), 'no-such-service');
    await api.delete(`/api/services/${service.id}`).set('if-match', tagOf(1)).expect(204);
    expectProblem(await post(service.id).send({}), 'no-such-service');
    expectProblem(await post(service.id).send({ endsAt: 'soon' }), 'invalid-input');
    expectProblem(await post(service.id).send({ marksRanges: 'x'.repeat(2 ** 21) }), 'too-large');
    expectProblem(await post(service.id).type('text/plain').send('a'), 'wrong-media-type');
  });
});

describe('GET /api/services/:id/links', () => {
  it('lists them, the oldest first, each as it is now; or 404', async () => {
    let now = new Date('2026-03-01T10:00:00Z');
    const { api } = await ownApp({}, { now: () => now });
    const { id } = await addService(api);
    const made: string[] = [];
    for (const endsAt of ['2026-03-02T00:00:00Z', '2026-03-03T00:00:00Z']) {
      made.push((await makeLink(api, id, { endsAt })).link.id);
      now = new Date(now.getTime() + 1000);
    }
    now = new Date('2026-03-02T00:00:00Z');
    const answer = await api.get(`/api/services/${id}/links`).expect(200);
    expect(answer.headers['cache-control']).toBe('no-store');
    expect(answer.body.links).toMatchObject([
      { id: made[0], state: 'ended' },
      { id: made[1], state: 'open' },
    ]);
    expect(answer.text).not.toMatch(/hash|secret/i);
    expectProblem(await api.get('/api/services/none/links'), 'no-such-service');
  });
});

describe('PATCH /api/links/:id', () => {
  it('changes what it allows and when it ends, takes it back and lets it open again', async () => {
    const { api } = await ownApp();
    const { id } = await addService(api);
    const { link } = await makeLink(api, id);
    const change = (version: number, body: object) =>
      api.patch(`/api/links/${link.id}`).set('if-match', tagOf(version)).send(body).expect(200);
    const closed = await change(1, { marksRanges: false });
    expect(closed.body).toEqual({ ...link, marksRanges: false, version: 2 });
    expect(closed.headers['etag']).toBe('"v2"');
    expect((await change(2, { endsAt: '2026-03-01T10:00:00Z' })).body.state).toBe('ended');
    expect((await change(3, { revoked: true })).body.state).toBe('revoked');
    expect((await change(4, { endsAt: link.endsAt })).body.state).toBe('revoked');
    expect((await change(5, { revoked: false })).body).toMatchObject({ state: 'open', version: 6 });
  });

  it('answers 428, 412, 404, 400, 413 and 415, and changes nothing then', async () => {
    const { api } = await ownApp();
    const service = await addService(api);
    const { link } = await makeLink(api, service.id);
    const patch = (id = link.id, version = 1) =>
      api.patch(`/api/links/${id}`).set('if-match', tagOf(version));
    expectProblem(
      await api.patch(`/api/links/${link.id}`).send({ revoked: true }),
      'version-required',
    );
    expectProblem(await patch(link.id, 2).send({ revoked: true }), 'stale-version');
    expectProblem(await patch('none').send({ revoked: true }), 'no-such-link');
    expectProblem(await patch().send({}), 'invalid-input');
    expectProblem(await patch().send({ revoked: 'x'.repeat(2 ** 21) }), 'too-large');
    expectProblem(await patch().type('text/plain').send('a'), 'wrong-media-type');
    const { body } = await api.get(`/api/services/${service.id}/links`);
    expect(body.links).toEqual([link]);
    await api.delete(`/api/services/${service.id}`).set('if-match', tagOf(1)).expect(204);
    expectProblem(await patch().send({ revoked: true }), 'no-such-link');
  });
});

const address = (family: 'IPv4' | 'IPv6', text: string, internal = false): NetworkInterfaceInfo =>
  ({ family, address: text, internal, netmask: '', mac: '', cidr: null, scopeid: 0 }) as never;

const INTERFACES = {
  lo: [address('IPv4', '127.0.0.1', true), address('IPv6', '::1', true)],
  docker0: [address('IPv4', '172.17.0.1')],
  eth0: [address('IPv4', '10.0.0.7'), address('IPv6', 'fe80::1'), address('IPv6', '2001:db8::7')],
  wlan0: [address('IPv4', '192.168.1.20')],
};

describe('GET /api/addresses', () => {
  it.each([
    ['127.0.0.1', null, []],
    ['localhost', 'https://team.example', ['https://team.example']],
    [
      '0.0.0.0',
      'https://team.example',
      [
        'https://team.example',
        'http://192.168.1.20:3000',
        'http://10.0.0.7:3000',
        'http://172.17.0.1:3000',
      ],
    ],
    [
      '::',
      null,
      [
        'http://192.168.1.20:3000',
        'http://10.0.0.7:3000',
        'http://[2001:db8::7]:3000',
        'http://172.17.0.1:3000',
      ],
    ],
    ['10.0.0.7', null, ['http://10.0.0.7:3000']],
  ])('where it listens at %s, with %s set', (host, publicAddress, origins) => {
    expect(findAddresses({ host, port: 3000, publicAddress }, INTERFACES)).toEqual(origins);
  });

  it('says where telephones find the app, under the port it listens at', async () => {
    const { api } = await ownApp({ publicAddress: 'https://team.example', host: '0.0.0.0' });
    const { body, headers } = await api.get('/api/addresses').expect(200);
    expect(body.origins[0]).toBe('https://team.example');
    for (const origin of body.origins.slice(1)) expect(origin).toMatch(/^http:\/\/[\d.]+:\d{2,5}$/);
    expect(headers['cache-control']).toBe('no-store');
    const alone = await ownApp();
    expect((await alone.api.get('/api/addresses')).body).toEqual({ origins: [] });
  });
});
