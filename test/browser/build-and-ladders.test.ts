import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { TEXTURES } from '#music';
import type { Member } from '#server/contract/members.ts';
import type { Service, ServiceItem } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

vi.setConfig({ testTimeout: 60_000 });

let app: RunningApp;
let browser: Browser;
let planned: PlannedService;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  planned = await planService(app.address);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

async function itemOf(id: string): Promise<ServiceItem> {
  const service = (await call(app.address, 'GET', `/services/${planned.service}`)) as unknown as Service; // prettier-ignore
  const item = service.items.find((each) => each.id === id);
  if (!item) throw new Error(`the order has no ${id}`);
  return item;
}

/** The textures that the service keeps for a line; null: as usual. */
const kept = async (id: string): Promise<string[] | null> =>
  (await itemOf(id)).form?.map(({ texture }) => texture ?? 'held') ?? null;

const eventually = { timeout: 15_000, interval: 100 };
const undo = (page: Page) => page.getByRole('button', { name: 'Undo' }).click();

async function openLine(page: Page, name: RegExp): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}`);
  const order = page.getByRole('list', { name: 'Order of service' });
  await order.locator('.name', { hasText: name }).click();
  await page.getByRole('slider').first().waitFor();
}

async function middleOf(point: Locator): Promise<Place> {
  const box = await point.boundingBox();
  if (!box) throw new Error('the point is not on the page');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

interface Hand {
  readonly press: (at: Place) => Promise<void>;
  readonly move: (to: Place) => Promise<void>;
  readonly release: () => Promise<void>;
}
interface Place {
  readonly x: number;
  readonly y: number;
}

const mouse = (page: Page): Promise<Hand> =>
  Promise.resolve({
    press: async ({ x, y }) => {
      await page.mouse.move(x, y);
      await page.mouse.down();
    },
    move: ({ x, y }) => page.mouse.move(x, y, { steps: 6 }),
    release: () => page.mouse.up(),
  });

/** The browser takes a finger that it may scroll with away from the page: the point has to keep it. */
async function finger(page: Page): Promise<Hand> {
  const session = await page.context().newCDPSession(page);
  const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', points: Place[]) =>
    void (await session.send('Input.dispatchTouchEvent', { type, touchPoints: points }));
  let last: Place = { x: 0, y: 0 };
  return {
    press: (at) => touch('touchStart', [(last = at)]),
    move: async (to) => {
      const from = last;
      for (let i = 1; i <= 6; i += 1) {
        last = { x: from.x + ((to.x - from.x) * i) / 6, y: from.y + ((to.y - from.y) * i) / 6 };
        await touch('touchMove', [last]);
      }
    },
    release: () => touch('touchEnd', []),
  };
}

describe('The build of a song in one service', () => {
  it('is drawn by keyboard: one pass, then a hairpin over all, and taken back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    await openLine(page, /Amazing Grace/);
    const points = page.getByRole('slider');
    const count = await points.count();
    expect(count).toBeGreaterThan(2);
    await points.first().focus();
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('ArrowUp');
    expect(await points.first().getAttribute('aria-valuetext')).toBe(
      'leading: hold; strike on 1 and again on the last beat',
    );
    await expect.poll(async () => (await kept('grace'))?.[0], eventually).toBe('leading');
    for (let i = 1; i < count; i += 1) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('End');
    await expect.poll(async () => (await kept('grace'))?.at(-1), eventually).toBe('broken');
    const steps = ((await kept('grace')) ?? []).map((each) => (TEXTURES as readonly string[]).indexOf(each)); // prettier-ignore
    expect(steps[0]).toBe(TEXTURES.indexOf('leading'));
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
    for (let i = 0; i < 3; i += 1) await undo(page);
    await expect.poll(() => kept('grace'), eventually).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['a mouse on a laptop', LAPTOP, mouse],
    ['a finger on a phone', PHONE, finger],
  ] as const)('is drawn by %s: from the first point to the last', async (_, viewport, pointer) => {
    const options = { viewport, hasTouch: pointer === finger };
    const { page, context, complaints } = await openPage(browser, options);
    await openLine(page, /Silent Night/);
    const points = page.getByRole('slider');
    const count = await points.count();
    await points.first().scrollIntoViewIfNeeded();
    const [from, to] = [await middleOf(points.first()), await middleOf(points.last())];
    const hand = await pointer(page);
    await hand.press(from);
    await hand.move({ x: (from.x + to.x) / 2, y: from.y - 20 });
    await hand.move({ x: to.x, y: Math.max(1, from.y - 400) });
    expect(await points.last().getAttribute('aria-valuenow')).toBe('6');
    expect(await kept('night'), 'nothing is kept before the pointer lets go').toBeNull();
    await hand.release();
    await expect.poll(async () => (await kept('night'))?.at(-1), eventually).toBe('broken');
    expect(await kept('night')).toHaveLength(count);
    expect((await kept('night'))?.[0]).toBe('held');
    await page.getByRole('button', { name: 'take the proposed build' }).click();
    await expect.poll(async () => (await kept('night'))?.at(-1), eventually).toBe('every beat');
    const ending = async () => (await itemOf('night')).form?.at(-1)?.ending;
    expect(await ending(), 'build and ending are one step').toBe('broad');
    await page.getByRole('button', { name: 'quietly', exact: true }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(ending, eventually).toBe('quiet');
    await undo(page);
    await expect.poll(ending, eventually).toBe('broad');
    await undo(page);
    await expect.poll(async () => (await kept('night'))?.at(-1), eventually).toBe('broken');
    await undo(page);
    await expect.poll(() => kept('night'), eventually).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('What a player plays of one song', () => {
  it('goes up a step in the service, stands on their sheet, and is taken back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    const stand = await openPage(browser, { viewport: TABLET });
    const sheet = `${app.address}/services/${planned.service}/people/${planned.people.Ines}`;
    const open = async (words: RegExp) => {
      await stand.page.goto(sheet);
      await stand.page.getByText(words).first().waitFor();
    };
    await open(/keys, first rung, for Ines/);
    await openLine(page, /Amazing Grace/);
    const left = page.getByRole('group', { name: 'left hand of Ines' });
    await left.getByRole('radio', { name: /^1:/ }).focus();
    await page.keyboard.press('ArrowRight');
    await left.getByText('the root with its octave, together').waitFor();
    const rungs = async () => (await itemOf('grace')).rungs[planned.people.Ines];
    await expect.poll(rungs, eventually).toEqual({ left: 2 });
    await open(/left hand rung 2/);
    const field = page.getByRole('combobox', { name: 'Ines: a section otherwise' });
    await field.selectOption({ index: 1 });
    await page.getByRole('combobox', { name: /^Ines in .*: left hand$/ }).selectOption('3');
    await expect
      .poll(async () => Object.values((await rungs())?.sections ?? {}), eventually)
      .toEqual([{ left: 3 }]);
    expect(await axeFindings(page)).toEqual([]);
    await left.getByRole('button', { name: /as their level says/ }).click();
    await expect.poll(async () => (await rungs())?.left, eventually).toBeUndefined();
    for (let i = 0; i < 3; i += 1) await undo(page);
    await expect.poll(rungs, eventually).toBeUndefined();
    await open(/keys, first rung, for Ines/);
    expect([...complaints, ...stand.complaints]).toEqual([]);
    await stand.context.close();
    await context.close();
  });

  it('says what of it they have met, from the services that are over', async () => {
    const { page, context } = await openPage(browser, { viewport: LAPTOP });
    await openLine(page, /Amazing Grace/);
    await page.getByText(/^Ines has not played any of Sunday’s .* shapes here yet\./).waitFor();
    await context.close();
  });
});

describe('The lines on technique', () => {
  it('stand at the foot of the sheet; one that is hidden stays hidden on this device until it is shown', async () => {
    const rungs = { [planned.people.Ines]: { right: 2, pedal: 1, texture: 6 } };
    const path = `/services/${planned.service}`;
    const service = (await call(app.address, 'GET', path)) as unknown as Service;
    const items = service.items.map((item) => (item.id === 'grace' ? { ...item, rungs } : item));
    await call(app.address, 'PATCH', path, { items }, { 'if-match': `"v${service.version}"` });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const foot = page.getByText(/the heel stays on the floor/).first();
    const open = async () => {
      await page.goto(`${app.address}${path}/people/${planned.people.Ines}`);
      await page
        .getByText(/with pedal/)
        .first()
        .waitFor();
    };
    /** Turns on until what is looked for is on the page that is open. */
    const turnTo = async (what: Locator) => {
      for (let i = 0; i < 12 && !(await what.isVisible()); i += 1)
        await page.keyboard.press('PageDown');
      expect(await what.isVisible()).toBe(true);
    };
    await open();
    await turnTo(foot);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: /^hide: the heel/ }).click();
    await foot.waitFor({ state: 'detached' });
    await open();
    const show = page.getByRole('button', { name: /on technique hidden here: show/ }).first();
    await turnTo(show);
    expect(await foot.count()).toBe(0);
    await show.click();
    await turnTo(foot);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('The page of somebody at the keys', () => {
  it.each([
    ['phone', PHONE, 'dark'],
    ['laptop', LAPTOP, 'light'],
  ] as const)(
    'says what their levels mean; the pedal is taken and left (%s)',
    async (_, viewport, colorScheme) => {
      const { page, context, complaints } = await openPage(browser, { viewport, colorScheme });
      await page.goto(`${app.address}/people`);
      await page.getByRole('button', { name: /^Ines/ }).click();
      const plays = page.getByRole('list', { name: 'What Ines plays at the keys' });
      await plays.getByText('the root, held, in one place').waitFor();
      const levels = async () =>
      ((await call(app.address, 'GET', `/members/${planned.people.Ines}`)) as unknown as Member).levels; // prettier-ignore
      await page.getByRole('combobox', { name: /^left hand/ }).selectOption('intermediate');
      await plays.getByText('the root with its octave, together').waitFor();
      await page.getByRole('combobox', { name: /^pedal/ }).selectOption('one a chord');
      await expect
        .poll(levels, eventually)
        .toEqual({ 'left hand': 'intermediate', pedal: 'intermediate' });
      expect(await axeFindings(page)).toEqual([]);
      await page.getByRole('combobox', { name: /^left hand/ }).selectOption('');
      await page.getByRole('combobox', { name: /^pedal/ }).selectOption('none');
      await expect.poll(levels, eventually).toEqual({});
      expect(complaints).toEqual([]);
      await context.close();
    },
  );
});
