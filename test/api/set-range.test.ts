import { describe, expect, it } from 'vitest';
import { addMember, tagOf } from '#test/support/api.ts';
import { changeLink, RANGE, sunday } from '#test/support/open-set.ts';
import { expectProblem } from '#test/support/problem.ts';

describe('PUT /api/set/:link/people/:member/range', () => {
  it('marks the usual comfortable range of a singer, which the leader sees and can set back', async () => {
    const { api, mark, ruth } = await sunday();
    const { body, headers } = await mark(ruth.id, { low: 'G3', high: 'C5' }).expect(200);
    expect(headers['cache-control']).toBe('no-store');
    expect(body).toEqual({
      id: ruth.id,
      name: 'Ruth',
      roles: ['lead voice'],
      marks: true,
      comfortable: { low: 'G3', high: 'C5' },
      rangeMarkedAt: ruth.rangeMarkedAt,
      voiceThisWeek: true,
    });
    const now = (await api.get(`/api/members/${ruth.id}`)).body;
    expect(now).toEqual({ ...ruth, comfortable: { low: 'G3', high: 'C5' }, version: 2 });
    await api
      .patch(`/api/members/${ruth.id}`)
      .set('if-match', tagOf(2))
      .send({ comfortable: RANGE })
      .expect(200);
  });

  it('shows furthest notes as enclosing it, and leaves them as they were marked', async () => {
    const { api, mark, ruth } = await sunday();
    await mark(ruth.id, { low: 'E3', high: 'C5' }).expect(200);
    const { body } = await api.get(`/api/members/${ruth.id}`);
    expect(body.limit).toEqual({ low: 'E3', high: 'D5' });
    await mark(ruth.id, { low: 'G3', high: 'C5' }).expect(200);
    const mended = (await api.get(`/api/members/${ruth.id}`)).body;
    expect(mended.limit).toEqual({ low: 'F3', high: 'D5' });
  });

  it('leaves no trace in the furthest notes of a slip, whatever else is saved before it is mended', async () => {
    const { api, mark, ruth } = await sunday();
    await mark(ruth.id, { low: 'G3', high: 'C6' }).expect(200);
    await api
      .patch(`/api/members/${ruth.id}`)
      .set('if-match', tagOf(2))
      .send({ reach: 11 })
      .expect(200);
    await mark(ruth.id, { low: 'G3', high: 'C5' }).expect(200);
    const mended = (await api.get(`/api/members/${ruth.id}`)).body;
    expect(mended).toMatchObject({ reach: 11, limit: { low: 'F3', high: 'D5' } });
  });

  it('says no more that the leader set another range for this service, once it is taken back', async () => {
    const { api, mark, ruth, service } = await sunday();
    const people = service.people.map((person) =>
      person.member === ruth.id ? { ...person, voice: null } : person,
    );
    const tagged = api.patch(`/api/services/${service.id}`).set('if-match', tagOf(1));
    await tagged.send({ people }).expect(200);
    const { body } = await mark(ruth.id, { low: 'G3', high: 'C5' }).expect(200);
    expect(body).toMatchObject({ comfortable: { low: 'G3', high: 'C5' }, voiceThisWeek: false });
  });

  it('takes a mark back with null: not known again, the furthest notes untouched', async () => {
    const { api, mark, ruth } = await sunday();
    await mark(ruth.id, { low: 'E3', high: 'C5' }).expect(200);
    const { body } = await mark(ruth.id, null).expect(200);
    expect(body).toMatchObject({ id: ruth.id, marks: true, comfortable: null });
    const now = (await api.get(`/api/members/${ruth.id}`)).body;
    expect(now).toMatchObject({ comfortable: null, limit: { low: 'F3', high: 'D5' }, version: 3 });
  });

  it('is for the singers of the service alone, and not for children', async () => {
    const { api, mark, service } = await sunday();
    const [, joel = '', ada = ''] = service.people.map(({ member }) => member);
    for (const id of [joel, ada]) {
      expectProblem(await mark(id, { low: 'G3', high: 'C5' }), 'not-allowed');
      expectProblem(await mark(id, null), 'not-allowed');
    }
    const outside = await addMember(api, { name: 'Outside' });
    for (const id of [outside.id, 'none']) {
      expectProblem(await mark(id, { low: 'G3', high: 'C5' }), 'no-such-person');
    }
    expect((await api.get(`/api/members/${ada}`)).body.comfortable).toEqual(RANGE);
  });

  it('is not for a link that does not allow it', async () => {
    const { ask, mark, ruth } = await sunday({ marksRanges: false });
    const [person] = (await ask().expect(200)).body.people;
    expect(person).toMatchObject({ id: ruth.id, marks: false, comfortable: null });
    expectProblem(await mark(ruth.id, { low: 'G3', high: 'C5' }), 'not-allowed');
  });

  it('answers 400 for what is no range, 413, 415, and 404 and 410 as the link stands', async () => {
    const own = await sunday();
    const { api, cookie, made, mark, ruth } = own;
    expectProblem(await mark(ruth.id, { low: 'C5', high: 'G3' }), 'invalid-input');
    expectProblem(await mark(ruth.id, { low: 'H3', high: 'C5' }), 'invalid-input');
    expectProblem(await mark(ruth.id, { low: 'x'.repeat(2 ** 21) }), 'too-large');
    const path = `/api/set/${made.link.id}/people/${ruth.id}/range`;
    const text = api.put(path).set('cookie', cookie).type('text/plain').send('a');
    expectProblem(await text, 'wrong-media-type');
    expectProblem(await api.put(path).send({ comfortable: RANGE }), 'wrong-link');
    await changeLink(own, 1, { revoked: true });
    expectProblem(await mark(ruth.id, { low: 'G3', high: 'C5' }), 'link-revoked');
    expect((await api.get(`/api/members/${ruth.id}`)).body).toEqual(ruth);
  });
});
