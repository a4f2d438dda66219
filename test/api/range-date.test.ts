import { describe, expect, it } from 'vitest';
import type { SetPerson } from '#server/contract/set.ts';
import { addMember, ownApp } from '#test/support/api.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

const RANGE = { low: 'A3', high: 'B4' };
const DAY = '2026-03-03T10:00:00.000Z';

/** Ruth sings, Joel plays, Ada is a child: all three with a range that was marked on 3 March 2026. */
async function sunday(now: () => Date) {
  const { api } = await ownApp({}, { now });
  const ruth = await addMember(api, { name: 'Ruth', comfortable: RANGE });
  const joel = await addMember(api, { name: 'Joel', comfortable: RANGE });
  const ada = await addMember(api, { name: 'Ada', child: true, comfortable: RANGE });
  const service = await addService(api, {
    people: [
      { member: ruth.id, roles: ['lead voice'] },
      { member: joel.id, roles: ['keys'] },
      { member: ada.id, roles: ['harmony voice'] },
    ],
  });
  const made = await makeLink(api, service.id, { marksRanges: true });
  const cookie = await openLink(api, made);
  const path = `/api/set/${made.link.id}`;
  const as = { ...ELSEWHERE, cookie };
  return {
    api,
    ruth,
    mark: (body: object) => api.put(`${path}/people/${ruth.id}/range`).set(as).send(body),
    dates: async () =>
      ((await api.get(path).set(as).expect(200)).body.people as SetPerson[]).map(
        ({ rangeMarkedAt }) => rangeMarkedAt,
      ),
  };
}

describe('The day on which a range was marked, by link', () => {
  it('is told to who may mark it, and of nobody else', async () => {
    const { dates } = await sunday(() => new Date(DAY));
    expect(await dates()).toEqual([DAY, null, null]);
  });

  it('is that of the marking, of the same range anew too, and goes with the range', async () => {
    let now = new Date(DAY);
    const { api, ruth, mark, dates } = await sunday(() => now);
    now = new Date('2026-03-04T10:00:00Z');
    const again = await mark({ comfortable: RANGE }).expect(200);
    expect(again.body).toMatchObject({
      comfortable: RANGE,
      rangeMarkedAt: '2026-03-04T10:00:00.000Z',
    });
    const { body } = await mark({ comfortable: null }).expect(200);
    expect(body).toMatchObject({ comfortable: null, rangeMarkedAt: null });
    expect((await api.get(`/api/members/${ruth.id}`)).body.rangeMarkedAt).toBeNull();
    expect(await dates()).toEqual([null, null, null]);
  });

  it('comes back with an earlier range by a step back, but never one that is still to come', async () => {
    let now = new Date(DAY);
    const { mark } = await sunday(() => now);
    now = new Date('2026-03-04T10:00:00Z');
    await mark({ comfortable: { low: 'G3', high: 'B4' } }).expect(200);
    const back = await mark({ comfortable: RANGE, rangeMarkedAt: DAY }).expect(200);
    expect(back.body).toMatchObject({ comfortable: RANGE, rangeMarkedAt: DAY });
    const ahead = { comfortable: RANGE, rangeMarkedAt: '2030-01-01T00:00:00Z' };
    const now4 = '2026-03-04T10:00:00.000Z';
    expect((await mark(ahead).expect(200)).body.rangeMarkedAt).toBe(now4);
  });
});
