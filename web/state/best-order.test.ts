import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ServicePlan } from '#music';
import type { BestOrderQuestion } from '#server/contract/best-order.ts';
import { item, ServiceServer } from '#test/support/service-server.ts';
import { BestOrder } from './best-order.svelte.ts';
import { sayMore } from './best-order-rows.ts';
import { notices } from './notice.svelte.ts';
import { ServicePage } from './service.svelte.ts';

const major = (tonic: string) => ({ tonic, mode: 'major' as const });
const line = (id: string, tonic: string, lead: string, points: number) => ({
  item: id,
  key: major(tonic),
  lead,
  costs: [{ kind: 'usual' as const, words: 'another key', points }],
  changed: { key: true, lead: false, place: false },
});
const plan = (...lines: ReturnType<typeof line>[]): ServicePlan => ({
  order: ['d', 'b', 'a', 'c'],
  lines,
  total: lines.reduce((sum, { costs }) => sum + (costs[0]?.points ?? 0), 0),
});
const BEST = plan(line('d', 'G', 'Tomas', 3), line('a', 'F', 'Ruth', 1));
const NEXT = plan(line('d', 'G', 'Tomas', 3), line('a', 'Eb', 'Tomas', 4));

/** A service of two songs, a reading between them and a talk at the end; the answer is made up. */
class Weighing extends ServiceServer {
  questions: BestOrderQuestion[] = [];
  isThere = true;
  override fetch = async (path: string, init: RequestInit): Promise<Response> => {
    if (!path.endsWith('/best-order')) return this.#rest(path, init);
    if (!this.isThere) throw new TypeError('no network');
    this.questions.push(JSON.parse(init.body as string) as BestOrderQuestion);
    return Response.json({
      service: 'x',
      serviceVersion: this.service.version,
      plans: [BEST, NEXT],
      proof: { optimal: true, bound: 4, words: 'Proved: so it is.' },
      problems: [],
      player: null,
      prices: [],
    });
  };
  readonly #usual = new ServiceServer();

  #rest(path: string, init: RequestInit): Promise<Response> {
    this.#usual.service = this.service;
    return this.#usual.fetch(path, init).finally(() => (this.service = this.#usual.service));
  }
}

let server: Weighing;
let page: ServicePage;
let best: BestOrder;
beforeEach(async () => {
  server = new Weighing();
  const [first, reading, talk] = server.service.items;
  if (!first || !reading || !talk) throw new Error('the order has three lines');
  const second = item('d', { song: 'grace', lead: 'Ruth' });
  server.service = { ...server.service, items: [first, reading, second, talk] };
  vi.stubGlobal('fetch', server.fetch);
  page = new ServicePage('x');
  await page.load();
  best = new BestOrder(page);
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

const order = () => page.items.map(({ id, key, lead }) => [id, key?.tonic ?? null, lead]);

describe('The best order of a service', () => {
  it('is asked for with caps for all or by member, a shape and pins', async () => {
    best.order = 'free';
    best.most = 2;
    best.setMostOf('Tomas', 1);
    best.drawRising();
    best.pin('a', 'key', true);
    await best.ask();
    expect(server.questions).toEqual([
      { order: 'free', most: { Ruth: 2, Tomas: 1 }, shape: [0, 5], pins: { a: { key: true } } },
    ]);
    best.setMostOf('Tomas', null);
    best.draw(null);
    await best.ask();
    expect(server.questions[1]).toMatchObject({ most: 2, shape: null });
  });

  it('stands beside what is there now, line by line', async () => {
    await best.ask();
    expect(best.rows.map(({ id, place, was, changes }) => [id, place, was.place, changes])).toEqual(
      [
        ['d', 1, 3, { place: true, key: true, lead: true }],
        ['a', 3, 1, { place: true, key: false, lead: false }],
      ],
    );
    expect(best.others).toMatchObject([
      {
        more: 3,
        words: ['Amazing Grace: in E♭ major and not in F; Tomas leads, not Ruth.'],
      },
    ]);
    expect([sayMore(3), sayMore(1), sayMore(0)]).toEqual([
      'three points more',
      'one point more',
      'as many points',
    ]);
  });

  it('is taken in one step, and taken back in one; what is as it was stays untouched', async () => {
    const before = order();
    await best.ask();
    best.take(BEST);
    expect(order()).toEqual([
      ['d', 'G', 'Tomas'],
      ['b', null, null],
      ['a', null, null],
      ['c', null, null],
    ]);
    expect(best.isOld).toBe(false);
    page.undo();
    expect(order()).toEqual(before);
  });

  it('gives one line by itself, without its place', async () => {
    await best.ask();
    const [row] = best.rows;
    if (row) best.takeLine(row);
    expect(order()[2]).toEqual(['d', 'G', 'Tomas']);
    expect(notices.current?.words).toBe('Amazing Grace in G major, Tomas leads.');
  });

  it('keeps what was changed by hand, and says where an answer is of another order', async () => {
    await best.ask();
    best.take(BEST);
    page.changeItem('a', { key: major('D') }, 'In D.');
    expect(best.isOld).toBe(true);
    expect(best.changedSince).toEqual({ a: { place: false, key: true, lead: false } });
    await best.askWithChanged();
    expect(server.questions.at(-1)?.pins).toEqual({ a: { place: false, key: true, lead: false } });
  });

  it('says that there is no network, and lets everything stand', async () => {
    server.isThere = false;
    const before = order();
    await best.ask();
    expect(best.trouble?.code).toBe('offline');
    expect([best.asking, best.answer, order()]).toEqual([false, null, before]);
  });
});
