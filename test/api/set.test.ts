import { describe, expect, it } from 'vitest';
import { addMember, arrangementOf, tagOf } from '#test/support/api.ts';
import { changeLink, RANGE, sunday } from '#test/support/open-set.ts';
import { expectProblem } from '#test/support/problem.ts';
import { ELSEWHERE, givenCookie, makeLink, openLink } from '#test/support/visitors.ts';

describe('POST /api/set/:link/session', () => {
  it('takes the secret for a cookie that no script reads and only this link gets', async () => {
    const { api, made } = await sunday();
    const answer = await api
      .post(`/api/set/${made.link.id}/session`)
      .set(ELSEWHERE)
      .send({ secret: made.secret })
      .expect(204);
    expect(givenCookie(answer, 'partbook-set')).toMatchObject({
      value: made.secret,
      attributes: [
        'HttpOnly',
        'Max-Age=15552000',
        `Path=/api/set/${made.link.id}`,
        'SameSite=Strict',
      ],
    });
    expect(answer.headers['cache-control']).toBe('no-store');
  });

  it('says the same of a link that never was and of a wrong secret', async () => {
    const { api, made } = await sunday();
    const said = new Set<string>();
    for (const id of ['none', made.link.id]) {
      const answer = await api
        .post(`/api/set/${id}/session`)
        .set(ELSEWHERE)
        .send({ secret: 'A'.repeat(43) });
      said.add(expectProblem(answer, 'wrong-link').detail);
      expect(answer.headers).not.toHaveProperty('set-cookie');
    }
    expect(said.size).toBe(1);
  });

  it('says kindly that a link has ended or was taken back, to who holds its secret alone', async () => {
    let now = new Date('2026-03-01T10:00:00Z');
    const own = await sunday({ now: () => now });
    const { api, made } = own;
    const post = (secret: string) =>
      api.post(`/api/set/${made.link.id}/session`).set(ELSEWHERE).send({ secret });
    now = new Date(made.link.endsAt);
    const ended = await post(made.secret);
    expect(expectProblem(ended, 'link-ended').detail).toContain('Ask your leader');
    expectProblem(await post('A'.repeat(43)), 'wrong-link');
    await changeLink(own, 1, { revoked: true });
    const revoked = await post(made.secret);
    expect(expectProblem(revoked, 'link-revoked').detail).toContain('taken back');
    expectProblem(await post('A'.repeat(43)), 'wrong-link');
    for (const { text } of [ended, revoked]) {
      for (const word of ['Morning', 'Mill Lane', 'Ruth', '2026']) expect(text).not.toContain(word);
    }
    now = new Date('2026-03-01T10:00:00Z');
    await changeLink(own, 2, { revoked: false });
    await post(made.secret).expect(204);
    await api.delete(`/api/services/${own.service.id}`).set('if-match', tagOf(1)).expect(204);
    expectProblem(await post(made.secret), 'link-revoked');
  });

  it('never says the secret again, and answers 400, 413 and 415 as every write does', async () => {
    const { api, made } = await sunday();
    const post = () => api.post(`/api/set/${made.link.id}/session`);
    const short = await post().send({ secret: 'short-secret' });
    expect(expectProblem(short, 'invalid-input').detail).not.toContain('short-secret');
    expectProblem(await post().send({ secret: 'x'.repeat(2 ** 21) }), 'too-large');
    expectProblem(await post().type('text/plain').send('a'), 'wrong-media-type');
  });

  it('lets nobody try more than sixty times a minute', async () => {
    const { app, made } = await sunday();
    const attempt = async () =>
      (
        await app.inject({
          method: 'POST',
          url: `/api/set/${made.link.id}/session`,
          remoteAddress: '192.168.1.77',
          payload: { secret: 'A'.repeat(43) },
        })
      ).statusCode;
    for (let time = 0; time < 60; time += 1) expect(await attempt()).toBe(404);
    expect(await attempt()).toBe(429);
  });
});

describe('GET /api/set/:link', () => {
  it('shows the order and whose pages there are; children by what they do', async () => {
    const { ask, made, ruth, service } = await sunday();
    const { body, headers } = await ask().expect(200);
    const [, joel, ada, ben, cleo] = service.people.map(({ member }) => member);
    const shut = { marks: false, comfortable: null, rangeMarkedAt: null, voiceThisWeek: false };
    expect(body).toEqual({
      team: 'Mill Lane',
      title: 'Morning service',
      date: '2026-03-08',
      time: '10:30',
      zone: 'Europe/Berlin',
      place: 'Mill Lane hall',
      startsAt: '2026-03-08T09:30:00.000Z',
      endsAt: made.link.endsAt,
      items: [
        { id: 'i1', kind: 'reading', title: 'Psalm 23', minutes: 4, key: null, lead: null },
        {
          id: 'i2',
          kind: 'song',
          title: 'Amazing Grace',
          minutes: null,
          key: { tonic: 'G', mode: 'major' },
          lead: 'harmony voice 1',
        },
      ],
      people: [
        {
          id: ruth.id,
          name: 'Ruth',
          roles: ['lead voice'],
          marks: true,
          comfortable: RANGE,
          rangeMarkedAt: '2026-03-01T10:00:00.000Z',
          voiceThisWeek: true,
        },
        { id: joel, name: 'Joel', roles: ['keys', 'leader'], ...shut },
        { id: ada, name: 'harmony voice 1', roles: ['harmony voice'], ...shut },
        { id: ben, name: 'harmony voice 2', roles: ['harmony voice'], ...shut },
        { id: cleo, name: 'a drummer', roles: ['drums'], ...shut },
      ],
    });
    expect(headers['cache-control']).toBe('no-store');
    expect(headers).toMatchObject({
      'referrer-policy': 'no-referrer',
      'x-robots-tag': 'noindex, nofollow',
    });
  });

  it('leaves out what was deleted; who usually leads but does not serve gives way to a lead voice of the week', async () => {
    const { api, ask, ruth, service } = await sunday();
    const usual = await addMember(api, { name: 'Usual Lead' });
    const song = service.items[1]?.song ?? '';
    const { version } = await arrangementOf(api, song);
    await api
      .patch(`/api/songs/${song}/arrangement`)
      .set('if-match', tagOf(version))
      .send({ lead: usual.id, key: { tonic: 'F', mode: 'major' } })
      .expect(200);
    const items = service.items.map((item) => ({ ...item, lead: null }));
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({ items })
      .expect(200);
    const before = (await ask().expect(200)).body;
    expect(before.items[1]).toMatchObject({ lead: 'Ruth', key: { tonic: 'F', mode: 'major' } });
    await api.delete(`/api/members/${ruth.id}`).set('if-match', tagOf(1)).expect(204);
    const { body: songNow } = await api.get(`/api/songs/${song}`);
    await api.delete(`/api/songs/${song}`).set('if-match', tagOf(songNow.version)).expect(204);
    const { body } = await ask().expect(200);
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual(['i1']);
    expect(body.people.map(({ name }: { name: string }) => name)).not.toContain('Ruth');
  });

  it('asks for the cookie each time: 404 without it, at once 410 when the link is taken back', async () => {
    const own = await sunday();
    const { api, ask, made, service } = own;
    expectProblem(await api.get(`/api/set/${made.link.id}`), 'wrong-link');
    expectProblem(await ask('', 'partbook-set=guess'), 'wrong-link');
    const other = await makeLink(api, service.id);
    expectProblem(await ask('', await openLink(api, other)), 'wrong-link');
    const unknown = api.get('/api/set/none').set('cookie', own.cookie);
    expectProblem(await unknown, 'wrong-link');
    await ask().expect(200);
    await changeLink(own, 1, { revoked: true });
    const shut = await ask();
    expectProblem(shut, 'link-revoked');
    expect(shut.headers['cache-control']).toBe('no-store');
  });

  it('ends with the day after the service', async () => {
    let now = new Date('2026-03-01T10:00:00Z');
    const { ask, made } = await sunday({ now: () => now });
    now = new Date(Date.parse(made.link.endsAt) - 1);
    await ask().expect(200);
    now = new Date(made.link.endsAt);
    expectProblem(await ask(), 'link-ended');
  });

  it('takes as many statements for a long order as for a short one', async () => {
    const own = await sunday();
    const { api, ask, service, statements } = own;
    const count = async () => {
      statements();
      await ask().expect(200);
      return statements().length;
    };
    const few = await count();
    const [, song] = service.items;
    const items = Array.from({ length: 40 }, (_, at) => ({ ...song, id: `more-${at}` }));
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', tagOf(1))
      .send({ items })
      .expect(200);
    expect(await count()).toBe(few);
    expect(few).toBeLessThanOrEqual(12);
  });
});

describe('DELETE /api/set/:link/session', () => {
  it('takes the cookie from this browser', async () => {
    const { api, made, cookie } = await sunday();
    const path = `/api/set/${made.link.id}`;
    const answer = await api
      .delete(`${path}/session`)
      .set(ELSEWHERE)
      .set('cookie', cookie)
      .expect(204);
    const { value, attributes } = givenCookie(answer, 'partbook-set');
    expect([value, attributes]).toEqual([
      '',
      ['HttpOnly', 'Max-Age=0', `Path=${path}`, 'SameSite=Strict'],
    ]);
    await api.delete('/api/set/none/session').expect(204);
  });
});
