import { describe, expect, it } from 'vitest';
import { addMember, appFor, bringHymn, ownDatabase, tagOf } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { quickRenderer, songItem } from '#test/support/service.ts';
import { addService, ELSEWHERE, makeLink, openLink } from '#test/support/visitors.ts';

/** What the leader is promised of a link that is taken back. */
const WITHIN = 1000;

/** An engraver that keeps everybody waiting until it is let go. */
function heldRenderer() {
  const renderer = quickRenderer();
  let letGo = () => {};
  let begin = () => {};
  const gate = new Promise<void>((open) => (letGo = open));
  const begun = new Promise<void>((open) => (begin = open));
  const engrave: typeof renderer.engrave = async (...wish) => {
    begin();
    await gate;
    return renderer.engrave(...wish);
  };
  return { renderer: { ...renderer, engrave }, begun, letGo };
}

async function sunday(renderer = quickRenderer()) {
  const own = ownDatabase();
  const teamId = await own.store.addTeam('Mill Lane');
  const { api, app } = await appFor(own, teamId, {}, renderer);
  const song = await bringHymn(api);
  const ines = await addMember(api, { name: 'Ines' });
  const { id } = await addService(api, {
    items: [songItem('item-0', song.id)],
    people: [{ member: ines.id, roles: ['keys'] }],
  });
  const made = await makeLink(api, id);
  const cookie = await openLink(api, made);
  await app.listen({ host: '127.0.0.1', port: 0 });
  const set = `/api/set/${made.link.id}`;
  const pages = `${set}/pages/${ines.id}`;
  const ask = (path: string) => api.get(path).set(ELSEWHERE).set('cookie', cookie);
  const takeBack = async () => {
    await api
      .patch(`/api/links/${made.link.id}`)
      .set('if-match', tagOf(1))
      .send({ revoked: true })
      .expect(200);
    return performance.now();
  };
  return { set, pages, ask, takeBack };
}

describe('A link that is taken back', () => {
  it.each(['set', 'pages'] as const)(
    'is shut for %s at the next request, within a second of the answer',
    async (what) => {
      const own = await sunday();
      // Kept answers do not keep the door open either.
      for (let times = 0; times < 2; times += 1) await own.ask(own[what]).expect(200);
      const answered = await own.takeBack();
      const next = await own.ask(own[what]);
      expect(performance.now() - answered).toBeLessThan(WITHIN);
      expectProblem(next, 'link-revoked');
    },
  );

  it('gives out nothing to whoever asks after it, in the midst of others who ask', async () => {
    const { pages, set, ask, takeBack } = await sunday();
    // Somebody asks every few milliseconds, for a while after it was taken back too, however long that takes.
    const asking: Promise<{ asked: number; status: number }>[] = [];
    const askOn = async (times: number): Promise<void> => {
      for (let at = 0; at < times; at++) {
        const asked = performance.now();
        asking.push(ask(at % 2 ? pages : set).then(({ status }) => ({ asked, status })));
        await new Promise((done) => setTimeout(done, 5));
      }
    };
    await askOn(12);
    const [answered] = await Promise.all([takeBack(), askOn(12)]);
    await askOn(12);
    const heard = await Promise.all(asking);
    expect(new Set(heard.map(({ status }) => status))).toEqual(new Set([200, 410]));
    const after = heard.filter(({ asked }) => asked > answered);
    expect(after.length).toBeGreaterThan(0);
    expect(after.filter(({ status }) => status !== 410)).toEqual([]);
  });

  it('gives out no page that was asked for before and is only made now', async () => {
    const { renderer, begun, letGo } = heldRenderer();
    const { pages, ask, takeBack } = await sunday(renderer);
    const waiting = ask(pages).then((answer) => answer);
    await begun;
    await takeBack();
    // Well within the second, and longer than a kept answer takes on its way.
    await new Promise((done) => setTimeout(done, WITHIN / 10));
    letGo();
    expectProblem(await waiting, 'link-revoked');
  });
});
