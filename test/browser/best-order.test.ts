import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Service } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { call } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let watched: WatchedPage;
let page: Page;
/** Its id. */
let service: string;

const HYMNS = [
  'Amazing_Grace-New_Britain',
  'Now_Thank_We_All_Our_God-Nun_Danket',
  'O_For_A_Thousand_Tongues-Azmon',
];

const post = async (path: string, body: object): Promise<string> =>
  (await call(app.address, 'POST', path, body))['id'] as string;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const items: object[] = [];
  for (const name of HYMNS) {
    const bytes = hymn(name).toString('base64');
    const song = await post('/songs', { format: 'abc', bytes });
    items.push({ id: `line-${items.length}`, kind: 'song', song });
  }
  const people: object[] = [];
  for (const [name, role, low, high] of [
    ['Ruth', 'lead voice', 'A3', 'C5'],
    ['Tomas', 'lead voice', 'B2', 'D4'],
    ['Ines', 'keys', 'A3', 'C5'],
  ]) {
    const facts = { name, roles: [role], comfortable: { low, high } };
    people.push({ member: await post('/members', facts), roles: [role] });
  }
  service = await post('/services', { date: '2026-11-29', items, people });
  watched = await openPage(browser, { viewport: TABLET });
  page = watched.page;
  await page.goto(`${app.address}/services/${service}`);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const section = () => page.getByRole('region', { name: 'keys, leads and order together' });
const button = (name: string | RegExp) => section().getByRole('button', { name });
const stored = async (): Promise<Service> =>
  (await (await fetch(`${app.address}/api/services/${service}`)).json()) as Service;
const orderOf = ({ items }: Service) => items.map(({ id, key, lead }) => ({ id, key, lead }));

describe('Keys, leads and order together', () => {
  it('are asked for: any order, a cap on the leads, a shape drawn by keyboard', async () => {
    await section().getByLabel('any order of the songs').check();
    await section().getByLabel('Everybody leads at most').selectOption('2');
    await button('from quiet to full, as drawn').click();
    const first = section().getByRole('slider').first();
    await first.focus();
    await page.keyboard.press('ArrowUp');
    expect(await first.getAttribute('aria-valuetext')).toBe('rather quiet');
    await button('Weigh them together').click();
    await section().getByText('Proved: no other choice').waitFor({ timeout: 30_000 });
  });

  it('come as a table whose lines add up, with the prices and what the next best would trade', async () => {
    const table = section().getByRole('table', { name: 'The best plan, line by line' });
    const points = await table.locator('tr.line td:last-child').allInnerTexts();
    expect(points).toHaveLength(3);
    const total = points.reduce((sum, each) => sum + Number(each), 0);
    expect(await table.locator('tfoot td').innerText()).toBe(String(total));
    await section().getByText('What things cost').click();
    await section().getByText('a lead at the edge of their range').waitFor();
    expect(await section().getByRole('region', { name: 'The next best' }).innerText()).toMatch(
      /(leads|line|in) /,
    );
    expect(await axeFindings(page)).toEqual([]);
  });

  it('stand in the order in one step, and go back in one', async () => {
    const before = orderOf(await stored());
    await button('Take it all').click();
    await section().getByText('So it stands in the order.').waitFor();
    await expect.poll(async () => orderOf(await stored())).not.toEqual(before);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => orderOf(await stored())).toEqual(before);
    await button('Take it all').waitFor();
  });

  it('keep what was changed by hand afterwards, when they are asked for again', async () => {
    await button('Take it all').click();
    await section().getByText('So it stands in the order.').waitFor();
    const order = page.getByRole('region', { name: 'Order of service' });
    await order.locator('button.name', { hasText: 'Amazing Grace' }).first().click();
    const leads = page.getByRole('group', { name: 'who leads it' }).getByRole('radio');
    const other = (await leads.first().isChecked()) ? leads.nth(1) : leads.first();
    await other.check();
    await button('Weigh again and keep what I changed').click();
    await section().getByText('something of 1 song').waitFor();
    await section().getByText('Weighing').waitFor({ state: 'hidden' });
    const row = section().locator('tr.line', { hasText: 'Amazing Grace' });
    expect(await row.locator('td').nth(1).innerText()).not.toContain('→');
    expect(watched.complaints).toEqual([]);
  });
});
