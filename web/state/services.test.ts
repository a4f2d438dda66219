import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { NewService, ServiceListItem } from '#server/contract/services.ts';
import { notices } from './notice.svelte.ts';
import { Services } from './services.svelte.ts';

const WEDNESDAY = '2026-11-25';
const HERE = new Intl.DateTimeFormat().resolvedOptions().timeZone;
const ELSEWHERE = HERE === 'Pacific/Auckland' ? 'Europe/Berlin' : 'Pacific/Auckland';
const listed = (id: string, date: string, over: boolean): ServiceListItem => ({
  id,
  title: id,
  date,
  time: '09:30',
  zone: 'Europe/Berlin',
  place: 'chapel',
  startsAt: `${date}T08:30:00.000Z`,
  over,
  songs: [],
  people: 0,
  version: 1,
  deletedAt: null,
});

let kept: ServiceListItem[];
let deleted: ServiceListItem[];
let made: NewService[];

beforeEach(() => {
  kept = [];
  deleted = [];
  made = [];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    await Promise.resolve();
    if (init.method === 'POST' && path.endsWith('/restore')) {
      kept.push(...deleted.splice(0));
      return Response.json(kept[0]);
    }
    if (init.method === 'POST') {
      made.push(JSON.parse(init.body as string) as NewService);
      return Response.json({ id: 'new' });
    }
    if (init.method === 'DELETE') {
      deleted.push(...kept.splice(0, 1));
      return new Response(null, { status: 204 });
    }
    return Response.json({ services: path.includes('deleted=1') ? deleted : kept });
  });
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

async function services(): Promise<Services> {
  const all = new Services(WEDNESDAY);
  await all.load();
  return all;
}

describe('The services', () => {
  it('are what is coming, the nearest first, and what was, the latest first', async () => {
    kept = [
      listed('harvest', '2026-10-04', true),
      listed('saints', '2026-11-01', true),
      listed('advent', '2026-11-29', false),
      listed('christmas', '2026-12-25', false),
    ];
    const all = await services();
    expect(all.coming.map(({ id }) => id)).toEqual(['advent', 'christmas']);
    expect(all.past.map(({ id }) => id)).toEqual(['saints', 'harvest']);
  });

  it('begin with the next Sunday, in the time zone of this device', async () => {
    const all = await services();
    expect(all.date).toBe('2026-11-29');
    await all.create();
    expect(made).toEqual([{ date: '2026-11-29', time: '10:00', place: '', zone: HERE }]);
  });

  it('go on with the time and place of the last one, on a Sunday that is free', async () => {
    kept = [listed('advent', '2026-11-29', false)];
    const all = await services();
    expect([all.date, all.time, all.place]).toEqual(['2026-12-06', '09:30', 'chapel']);
    await all.create();
  });

  it('go by the clocks of this device, whatever those go by that are there already', async () => {
    kept = [{ ...listed('demo', '2026-11-29', false), zone: ELSEWHERE }];
    const all = await services();
    await all.create();
    expect(made[0]?.zone).toBe(HERE);
  });

  it.each([
    ['a week after the one it begins with', '2026-11-29', '2026-12-06'],
    ['on the Sunday to come, where that one is long past', '2026-10-04', '2026-11-29'],
  ])('begin from another %s', async (_, date, then) => {
    kept = [listed('one', date, date < WEDNESDAY)];
    const all = await services();
    const [one] = all.list ?? [];
    if (one) await all.copy(one);
    expect(made).toEqual([{ from: 'one', date: then }]);
  });

  it('are begun from another on the first Sunday after it that is free', async () => {
    kept = [listed('advent', '2026-11-29', false), listed('next', '2026-12-06', false)];
    const all = await services();
    const advent = all.coming.find(({ id }) => id === 'advent');
    if (advent) await all.copy(advent);
    expect(made).toEqual([{ from: 'advent', date: '2026-12-13' }]);
  });

  it('are taken out at once, come back by Undo, and can be brought back later', async () => {
    kept = [listed('advent', '2026-11-29', false)];
    const all = await services();
    const [advent] = all.coming;
    if (!advent) throw new Error('it is coming');
    await all.takeOut(advent);
    expect([all.coming.length, all.deleted.length]).toEqual([0, 1]);
    await notices.undo();
    expect([all.coming.length, all.deleted.length]).toEqual([1, 0]);
  });
});
