import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Stands, type Mishaps, type StandService } from '#music';
import { item, ServiceServer } from '#test/support/service-server.ts';
import { notices } from './notice.svelte.ts';
import { ServicePage } from './service.svelte.ts';
import { TenMinutes, type PlansStands } from './ten-minutes.svelte.ts';

/** The same work as in the worker, at once. */
class Planning implements PlansStands {
  asked: Mishaps[] = [];
  readonly #memory = Stands.newMemory();
  #service: StandService | null = null;
  stands(service: StandService): void {
    this.#service = service;
  }
  leastChange: PlansStands['leastChange'] = async (mishaps, { onplan, onpages, ontold }) => {
    this.asked.push(mishaps);
    await Promise.resolve();
    if (!this.#service) throw new Error('nothing stands on the stands');
    const change = new Stands.LeastChange(this.#service, mishaps, this.#memory);
    onplan(change.plan);
    for (const line of change.plan.lines) {
      const pages = change.pagesOf(line.item);
      if (pages) onpages(pages);
    }
    ontold();
  };
  close(): void {}
}

let server: ServiceServer;
let page: ServicePage;
let planning: Planning;
let ten: TenMinutes;
beforeEach(async () => {
  server = new ServiceServer();
  const second = item('d', { song: 'grace', lead: 'Tomas' });
  server.service = { ...server.service, items: [...server.service.items, second] };
  vi.stubGlobal('fetch', server.fetch);
  page = new ServicePage('x');
  await page.load();
  planning = new Planning();
  ten = new TenMinutes(page, planning);
  ten.show();
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

const ruth = () => {
  const found = ten.people.find(({ id }) => id === 'Ruth');
  if (!found) throw new Error('Ruth serves');
  return found;
};
const order = () => page.items.map(({ id, key, lead }) => [id, key?.tonic ?? null, lead]);

describe('Ten minutes before', () => {
  it('plans with one tap, and changes nothing until it is taken', async () => {
    const before = order();
    await ten.say('Ruth', { kind: 'away' });
    expect(ten.state).toBe('told');
    expect(ten.rows.map(({ id, lead }) => [id, lead])).toEqual([
      ['a', 'Tomas'],
      ['d', 'Tomas'],
    ]);
    expect(ten.rows[0]?.changes.lead).toBe(true);
    expect(ten.rows[1]).toMatchObject({ changes: { key: false, lead: false }, words: [] });
    expect(ten.words).toBe('Ruth cannot come');
    expect(order()).toEqual(before);
    expect(server.sent).toEqual([]);
  });

  it('is taken in one step with who is missing, and taken back in one', async () => {
    const before = order();
    const people = page.service?.people;
    await ten.say('Ruth', { kind: 'away' });
    ten.take();
    await page.saver?.retry();
    expect(ten.isTaken).toBe(true);
    expect(server.sent).toHaveLength(1);
    expect(server.service.people.map(({ member }) => member)).toEqual(['Tomas', 'Ines']);
    expect(page.leadOf(page.items[0] ?? item('a', {}))).toBe('Tomas');
    page.undo();
    await page.saver?.retry();
    expect(order()).toEqual(before);
    expect(server.service.people).toEqual(people);
    expect(ten.isTaken).toBe(false);
  });

  it('holds nothing pressed once it is taken or taken back, and takes nothing a second time', async () => {
    const before = order();
    await ten.say('Ruth', { kind: 'away' });
    ten.take();
    expect([ten.saidOf('Ruth'), ten.isDone, ten.rows.length]).toEqual([null, true, 2]);
    page.undo();
    expect([ten.saidOf('Ruth'), ten.isDone, ten.plan, ten.state]).toEqual([null, false, null, 'nothing']); // prettier-ignore
    expect(ten.people.map(({ id }) => id)).toContain('Ruth');
    await ten.say('Tomas', { kind: 'silent' });
    expect(planning.asked.at(-1)).toEqual({ Tomas: { kind: 'silent' } });
    ten.take();
    expect(page.service?.people.map(({ member }) => member)).toContain('Ruth');
    page.undo();
    ten.take();
    expect(order()).toEqual(before);
  });

  it('still shows what to tell them where the service is changed after it was taken', async () => {
    await ten.say('Ruth', { kind: 'away' });
    ten.take();
    page.changeItem('d', { lead: 'Ines' }, 'Ines leads.');
    expect([ten.isDone, ten.isTaken]).toEqual([true, false]);
    expect(ten.told.length).toBeGreaterThan(0);
    page.undo();
    expect([ten.isDone, ten.isTaken]).toEqual([true, true]);
  });

  it('is taken line by line too, and who is missing goes with the first', async () => {
    await ten.say('Tomas', { kind: 'silent' });
    ten.take('d');
    await page.saver?.retry();
    const tomas = server.service.people.find(({ member }) => member === 'Tomas');
    expect(tomas?.roles).toEqual(['guitar']);
    expect(page.items.find(({ id }) => id === 'd')?.lead).toBe('Ruth');
    expect(ten.isTaken).toBe(false);
    expect(ten.isOld).toBe(false);
    expect(ten.people.map(({ id }) => id)).toContain('Tomas');
  });

  it('narrows a voice by steps for this week alone, and no further than one note', async () => {
    await ten.step(ruth(), 'high', -1);
    await ten.step(ruth(), 'high', -1);
    expect(ten.rangeOf(ruth())).toEqual({ low: 'A3', high: 'B4' });
    expect(planning.asked.at(-1)).toEqual({
      Ruth: { kind: 'voice', range: { low: 'A3', high: 'B4' } },
    });
    for (let i = 0; i < 20; i += 1) await ten.step(ruth(), 'high', -1);
    expect(ten.rangeOf(ruth())).toEqual({ low: 'A3', high: 'B3' });
    ten.take();
    await page.saver?.retry();
    const said = server.service.people.find(({ member }) => member === 'Ruth');
    expect(said?.voice).toEqual({ low: 'A3', high: 'B3' });
    expect(ten.rangeOf(ruth())).toEqual({ low: 'A3', high: 'B3' });
    for (let i = 0; i < 8; i += 1) await ten.step(ruth(), 'high', 1);
    expect(ten.rangeOf(ruth())).toEqual({ low: 'A3', high: 'C5' });
  });

  it('is old once somebody else changes the service, and plans again', async () => {
    await ten.say('Ruth', { kind: 'away' });
    page.changeItem('d', { lead: 'Ruth' }, 'Ruth leads.');
    expect(ten.isOld).toBe(true);
    await ten.ask();
    expect(ten.isOld).toBe(false);
    expect(ten.rows[1]).toMatchObject({ lead: 'Tomas', changes: { lead: true } });
  });

  it('says so where the device cannot', async () => {
    planning.leastChange = () => Promise.reject(new Error('no worker'));
    await ten.say('Ruth', { kind: 'away' });
    expect(ten.state).toBe('failed');
    await ten.say('Ruth', null);
    expect(ten.state).toBe('nothing');
  });
});
