import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Service, ServiceItem } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

vi.setConfig({ testTimeout: 60_000 });

let app: RunningApp;
let browser: Browser;
let planned: PlannedService;
let noor: string;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  planned = await planService(app.address);
  noor = (await call(app.address, 'POST', '/members', { name: 'Noor', roles: ['bass'] }))['id'] as string; // prettier-ignore
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const eventually = { timeout: 15_000, interval: 100 };
const service = async () =>
  (await call(app.address, 'GET', `/services/${planned.service}`)) as unknown as Service;
const major = (tonic: string) => ({ tonic, mode: 'major' as const });

/** Amazing Grace in C, and after it Silent Night; a bass player is there. */
async function twoSongs(next: string, between: readonly string[] = []): Promise<void> {
  const { version, items, people } = await service();
  const find = (id: string) => items.find((item) => item.id === id) as ServiceItem;
  const order = [
    { ...find('grace'), key: major('C'), playedIn: {}, wayOn: null },
    ...between.map((id) => ({ id, kind: 'reading', title: 'Isaiah 40' })),
    { ...find('night'), key: major(next), wayOn: null },
  ];
  const serving = [
    ...people.filter(({ member }) => member !== noor),
    { member: noor, roles: ['bass'], voice: null },
  ];
  await call(app.address, 'PATCH', `/services/${planned.service}`, { items: order, people: serving }, { 'if-match': `"v${version}"` }); // prettier-ignore
}

const wayOn = async () => (await service()).items[0]?.wayOn;

async function openOrder(page: Page): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}`);
  await page.getByRole('list', { name: 'Order of service' }).waitFor();
}

/** What somebody has on the stand. */
async function standOf(page: Page, member: string, words: RegExp): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}/people/${member}`);
  // It may stand on a leaf that is not turned to yet.
  await page.getByText(words).first().waitFor({ state: 'attached' });
}

describe('From song to song', () => {
  it('a way is chosen by keyboard, stands in the parts, and is taken back', async () => {
    await twoSongs('G');
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    const stand = await openPage(browser, { viewport: TABLET });
    await openOrder(page);
    const line = page.getByRole('button', { name: 'From C to G: no way chosen' });
    await line.focus();
    await page.keyboard.press('Enter');
    const ways = page.getByRole('list', { name: 'Ways on to the next song' });
    await ways.getByText('Am is vi in C and ii in G; then D7, and G is home').waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /From C to G: by Am and D7, common chord, into G/ }).waitFor(); // prettier-ignore
    await expect.poll(wayOn, eventually).toBe('common chord');
    expect(await axeFindings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await ways.waitFor({ state: 'detached' });
    // At the keys and on the bass: bars of their own; for who sings: what to wait for.
    await standOf(stand.page, planned.people.Ines, /On to “Silent Night” in G/i);
    await standOf(stand.page, noor, /On to “Silent Night” in G/i);
    await standOf(stand.page, planned.people.Ruth, /then the keys play two bars; then “Silent Night” in G/); // prettier-ignore
    await standOf(stand.page, planned.people.Joel, /On to “Silent Night” in G/i);
    await standOf(stand.page, planned.people.Ada, /then by Am and D7, common chord, into G/);
    await page.keyboard.press('Control+z');
    await page.getByRole('button', { name: 'From C to G: no way chosen' }).waitFor();
    await expect.poll(wayOn, eventually).toBeNull();
    await standOf(stand.page, planned.people.Ines, /Amazing Grace/);
    expect(await stand.page.getByText(/On to “Silent Night”/i).count()).toBe(0);
    expect([...complaints, ...stand.complaints]).toEqual([]);
    await stand.context.close();
    await context.close();
  });

  it('a way that is gone after a change of key is said, and another is chosen', async () => {
    await twoSongs('G');
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      colorScheme: 'dark',
    });
    await openOrder(page);
    await page.getByRole('button', { name: 'From C to G: no way chosen' }).click();
    await page.getByRole('button', { name: /^common chord/ }).click();
    await expect.poll(wayOn, eventually).toBe('common chord');
    const { version, items } = await service();
    const moved = items.map((item) => (item.id === 'night' ? { ...item, key: major('F#') } : item));
    await call(app.address, 'PATCH', `/services/${planned.service}`, { items: moved }, { 'if-match': `"v${version}"` }); // prettier-ignore
    await openOrder(page);
    const gone = page.getByRole('button', { name: /no common chord between C and F♯ any more; choose another way/ }); // prettier-ignore
    await gone.click();
    await page.getByRole('button', { name: 'Hear dominant' }).click();
    await page.getByRole('button', { name: /^dominant/ }).click();
    await page.getByRole('button', { name: /From C to F♯: by C♯7, dominant, into F♯/ }).waitFor();
    await expect.poll(wayOn, eventually).toBe('dominant');
    expect(await axeFindings(page)).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    await page.getByRole('button', { name: /^none the song ends/ }).click();
    await expect.poll(wayOn, eventually).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('over a reading there is a loop, or none', async () => {
    await twoSongs('G', ['isaiah']);
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await openOrder(page);
    await page.getByRole('button', { name: 'From C to G: no way chosen' }).click();
    const ways = page.getByRole('list', { name: 'Ways on to the next song' });
    expect(await ways.getByRole('listitem').count()).toBe(2);
    await ways.getByRole('button', { name: /^loop/ }).click();
    await expect.poll(wayOn, eventually).toBe('loop');
    await standOf(page, planned.people.Ines, /repeat softly until: the reading is over/);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
