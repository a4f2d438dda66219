import { describe, expect, it } from 'vitest';
import type { BestOrderAnswer } from '#server/contract/best-order.ts';
import { createPlanner } from '#server/planning/planner.ts';
import { addMember, bringHymn, ownApp, type TestApp } from '#test/support/api.ts';
import { addService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';

type Api = TestApp['api'];

const HYMNS = [
  'Amazing_Grace-New_Britain',
  'Now_Thank_We_All_Our_God-Nun_Danket',
  'O_For_A_Thousand_Tongues-Azmon',
];

/** Three hymns with a reading after the first, two who lead and a beginner at the keys. */
async function sunday(api: Api) {
  const songs = await Promise.all(HYMNS.map((name) => bringHymn(api, name)));
  const ada = await addMember(api, {
    name: 'Ada',
    roles: ['lead voice'],
    comfortable: { low: 'A3', high: 'D5' },
  });
  const bo = await addMember(api, {
    name: 'Bo',
    roles: ['lead voice'],
    comfortable: { low: 'C3', high: 'E4' },
  });
  const keys = { roles: ['keys'] as ['keys'] };
  const joel = await addMember(api, { name: 'Joel', level: 'advanced', ...keys });
  const ines = await addMember(api, { name: 'Ines', level: 'beginner', ...keys });
  const items = songs.map(({ id }, i) => ({ id: `song-${i}`, kind: 'song' as const, song: id }));
  const service = await addService(api, {
    date: '2026-03-08',
    items: items.toSpliced(1, 0, { id: 'psalm', kind: 'reading', title: 'Psalm 23' } as never),
    people: [ada, bo, joel, ines].map(({ id, roles }) => ({ member: id, roles })),
  });
  return { service, ada, bo };
}

async function ask(api: Api, id: string, question: object): Promise<BestOrderAnswer> {
  const answer = await api.post(`/api/services/${id}/best-order`).send(question);
  expect(answer.status, answer.text).toBe(200);
  return answer.body as BestOrderAnswer;
}

describe('POST /api/services/:id/best-order', () => {
  it('answers the best and two next plans, what each line costs, and that it is proved', async () => {
    const { api } = await ownApp();
    const { service } = await sunday(api);
    const answer = await ask(api, service.id, {});
    expect(answer).toMatchObject({
      service: service.id,
      serviceVersion: service.version,
      player: 'Ines',
      proof: { optimal: true, bound: answer.plans[0]?.total },
    });
    expect(answer.plans).toHaveLength(3);
    for (const { order, lines, total } of answer.plans) {
      expect(order).toEqual(['song-0', 'psalm', 'song-1', 'song-2']);
      const points = lines.flatMap(({ costs }) => costs.map((cost) => cost.points));
      expect(points.reduce((sum, each) => sum + each, 0)).toBe(total);
      const words = lines.flatMap(({ costs }) => costs.map((cost) => cost.words));
      expect(words.filter((each) => each === '')).toEqual([]);
    }
    expect(answer.prices.length).toBeGreaterThan(10);
  });

  it('saves nothing', async () => {
    const { api } = await ownApp();
    const { service } = await sunday(api);
    await ask(api, service.id, { order: 'free', most: 2 });
    const { body } = await api.get(`/api/services/${service.id}`).expect(200);
    expect(body).toEqual(service);
  });

  it('keeps caps for all or by member, pins, and what is no song at its place', async () => {
    const { api } = await ownApp();
    const { service, ada, bo } = await sunday(api);
    const capped = await ask(api, service.id, { order: 'free', most: { [ada.id]: 1 } });
    const leads = capped.plans.map(({ lines }) => lines.map(({ lead }) => lead));
    for (const each of leads) {
      expect(each.filter((lead) => lead === ada.id).length).toBeLessThanOrEqual(1);
      expect(each.every((lead) => lead === ada.id || lead === bo.id)).toBe(true);
    }
    expect(capped.plans.map(({ order }) => order[1])).toEqual(['psalm', 'psalm', 'psalm']);
    const pins = { 'song-2': { place: true, key: true, lead: true } };
    const pinned = await ask(api, service.id, { order: 'free', shape: [5, 3, 0], pins });
    for (const { order, lines } of pinned.plans) {
      expect(order.at(-1)).toBe('song-2');
      expect(lines.at(-1)?.changed).toEqual({ key: false, lead: false, place: false });
    }
  });

  it('says why nothing fits', async () => {
    const { api } = await ownApp();
    const { service } = await sunday(api);
    const answer = await ask(api, service.id, { most: 1 });
    expect(answer.plans).toEqual([]);
    expect(answer.problems.at(-1)).toBe(
      'There are more songs than Ada and Bo may lead together in comfort: let somebody lead one more.',
    );
  });

  it('weighs this week’s voice and not the usual one', async () => {
    const { api } = await ownApp();
    const { service, ada, bo } = await sunday(api);
    const before = await ask(api, service.id, { most: { [bo.id]: 0 } });
    const people = service.people.map((person) =>
      person.member === ada.id ? { ...person, voice: { low: 'E3', high: 'A4' } } : person,
    );
    await api
      .patch(`/api/services/${service.id}`)
      .set('if-match', `"v${service.version}"`)
      .send({ people })
      .expect(200);
    const hoarse = await ask(api, service.id, { most: { [bo.id]: 0 } });
    expect(hoarse.serviceVersion).toBe(service.version + 1);
    const keysOf = ({ plans }: BestOrderAnswer) => plans[0]?.lines.map(({ key }) => key.tonic);
    expect(keysOf(hoarse)).not.toEqual(keysOf(before));
  });

  it('of an order without songs there is nothing to weigh; it is answered all the same', async () => {
    const { api } = await ownApp();
    const service = await addService(api, {
      date: '2026-03-08',
      items: [{ id: 'psalm', kind: 'reading', title: 'Psalm 23' }],
    });
    const { plans } = await ask(api, service.id, {});
    expect(plans).toEqual([{ order: ['psalm'], lines: [], total: 0 }]);
  });

  it('refuses what is not there, and more songs than can be weighed', async () => {
    const { api } = await ownApp();
    const { service } = await sunday(api);
    const at = (id: string) => api.post(`/api/services/${id}/best-order`);
    expectProblem(await at('nowhere').send({}), 'no-such-service');
    expectProblem(await at(service.id).send({ most: { nobody: 1 } }), 'unknown-member');
    expectProblem(await at(service.id).send({ pins: { none: {} } }), 'invalid-input');
    expectProblem(await at(service.id).send({ order: 'any' }), 'invalid-input');
    const song = service.items[0]?.song as string;
    const many = await addService(api, {
      date: '2026-03-15',
      items: Array.from({ length: 15 }, (_, i) => ({ id: `s${i}`, kind: 'song' as const, song })),
    });
    expectProblem(await at(many.id).send({}), 'not-possible');
  });
});

describe('The planner', () => {
  it('refuses what waits once it is closed', async () => {
    const planner = createPlanner();
    await planner.close();
    const items = [{ id: 'psalm', title: 'Psalm 23', score: null }];
    const team = { singers: [], leads: [], congregation: null, player: null };
    await expect(planner.plan({ items, team, options: { order: 'kept' } })).rejects.toMatchObject({
      code: 'closed',
    });
  });
});
