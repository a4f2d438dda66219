import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, openPage, PHONE, TABLET, type WatchedPage } from './support/pages.ts';
import { call } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let watched: WatchedPage;
let page: Page;
/** Its id. */
let service: string;

const HYMNS = ['Amazing_Grace-New_Britain', 'Now_Thank_We_All_Our_God-Nun_Danket'];

const post = async (path: string, body: object): Promise<string> =>
  (await call(app.address, 'POST', path, body))['id'] as string;

const daysFromToday = (days: number): string =>
  new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const ruth = await post('/members', { name: 'Ruth', roles: ['lead voice'] });
  const people = [{ member: ruth, roles: ['lead voice'] }];
  const items: object[] = [];
  for (const name of HYMNS) {
    const song = await post('/songs', { format: 'abc', bytes: hymn(name).toString('base64') });
    items.push({ id: `line-${items.length}`, kind: 'song', song });
  }
  const talk = { id: 'talk', kind: 'talk', title: 'On rest', minutes: 12 };
  await post('/services', { date: daysFromToday(-21), items: items.slice(0, 1), people });
  service = await post('/services', {
    date: daysFromToday(7),
    time: '10:30',
    items: [items[0], talk, items[1]],
    people,
  });
  watched = await openPage(browser, { viewport: TABLET });
  page = watched.page;
  await page.goto(`${app.address}/services/${service}`);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const staff = () => page.getByRole('region', { name: 'the whole service' });

describe('The whole service on one staff', () => {
  it('has every line in its order, songs with their keys', async () => {
    await staff().waitFor();
    const names = await staff()
      .getByRole('button')
      .evaluateAll((all) => all.flatMap((each) => each.getAttribute('aria-label') ?? []));
    expect(names).toHaveLength(3);
    expect(names[0]).toMatch(/^Amazing Grace, . major$/);
    expect(names[1]).toBe('On rest');
  });

  it('takes a line in hand, by keyboard too, and is a table on wish', async () => {
    await staff().getByRole('button', { name: 'On rest' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'On rest', level: 2 }).waitFor();
    await staff().getByText('The same as a table').click();
    expect(await staff().getByRole('row').count()).toBe(4);
  });

  it('says an over-run only where there is one', async () => {
    expect(await page.getByText(/^☞ .*it has to end at/).count()).toBe(0);
    await page.getByRole('button', { name: /change$/ }).click();
    await page.getByLabel('has to end at').fill('10:35');
    await page.getByLabel('has to end at').blur();
    await page
      .getByText(/^☞ \d+ minutes over: it has to end at 10:35; the longest are “On rest”/)
      .waitFor();
    await page.getByLabel('has to end at').fill('11:30');
    await page.getByLabel('has to end at').blur();
    await expect.poll(() => page.getByText(/^☞ .*it has to end at/).count()).toBe(0);
  });

  it('tells how long a song has rested and who led it', async () => {
    await staff()
      .getByRole('button', { name: /^Amazing Grace/ })
      .click();
    await page.getByText(/rested four weeks: \d+ \w+( \d{4})? in \w+, led by Ruth/).waitFor();
  });

  it('is clean for axe, and scrolls sideways on a phone without moving the page', async () => {
    expect(await axeFindings(page)).toEqual([]);
    await page.setViewportSize(PHONE);
    const wider = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(wider).toBe(0);
    await page.setViewportSize(TABLET);
  });
});

describe('A year of songs', () => {
  it('shows each song with its rest and its leads, and is clean for axe', async () => {
    await page.goto(`${app.address}/songs/year`);
    const row = page.getByRole('row', { name: /Amazing Grace/ });
    await row.getByText('rested three weeks').waitFor();
    expect(await row.getByText(/once: .* led by Ruth/).count()).toBe(1);
    expect(await page.getByRole('row').count()).toBe(2);
    expect(await axeFindings(page)).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });

  it('narrows to one lead', async () => {
    const lead = page.getByRole('button', { name: /^Ruth/ });
    await lead.click();
    expect(await lead.getAttribute('aria-pressed')).toBe('true');
    expect(await page.getByRole('row').count()).toBe(2);
  });
});
