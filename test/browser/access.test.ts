import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let song = '';
let service = '';
let person = '';
/** With the secret in its fragment, as it is sent to people. */
let link = '';

async function post(path: string, body: object): Promise<string> {
  const response = await fetch(`${app.address}/api${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  return ((await response.json()) as { id: string }).id;
}

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const bytes = hymn('Amazing_Grace-New_Britain').toString('base64');
  song = await post('/songs', { format: 'abc', bytes });
  const ruth = await post('/members', {
    name: 'Ruth',
    roles: ['lead voice', 'keys'],
    comfortable: { low: 'A3', high: 'C5' },
  });
  service = await post('/services', {
    title: 'A first Sunday with a title that is longer than one line of a phone',
    date: '2036-11-30',
    time: '10:30',
    zone: 'Europe/Berlin',
    place: 'chapel on the hill',
    items: [
      { id: 'song', kind: 'song', song },
      {
        id: 'talk',
        kind: 'talk',
        title: 'The long way home',
        minutes: 20,
        note: 'after a silence',
      },
    ],
    people: [{ member: ruth, roles: ['lead voice', 'keys'] }],
  });
  person = `/services/${service}/people/${ruth}`;
  const made = await fetch(`${app.address}/api/services/${service}/links`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ marksRanges: true }),
  });
  link = ((await made.json()) as { path: string }).path;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** Opens what a page keeps folded, so that it is looked at too. */
async function open(page: Page, path: string): Promise<void> {
  const click = (name: RegExp) => page.getByRole('button', { name }).first().click();
  if (path === '/people') await click(/^Ruth/);
  if (path === '/') await click(/^New service/);
  if (path === link) await click(/my comfortable range, Ruth/i);
  if (path !== `/services/${service}`) return;
  await click(/^Roles and voice of Ruth/i);
  await click(/change$/);
  await click(/^Make (a|another) set link/);
  await page.getByLabel('address').waitFor();
  await page.locator('.name', { hasText: 'Amazing Grace' }).first().click();
}

const PAGES = [
  { name: 'the services', path: () => '/', ready: 'ol li' },
  { name: 'a service', path: () => `/services/${service}`, ready: '.side figure svg' },
  { name: 'the team', path: () => '/team', ready: 'form' },
  { name: 'the songs', path: () => '/songs', ready: 'ol li' },
  { name: 'a tune by its notes', path: () => '/songs/by-tune', ready: 'svg' },
  { name: 'putting a song in', path: () => '/songs/new', ready: 'textarea' },
  { name: 'a song', path: () => `/songs/${song}`, ready: '.system .harm[role=button]' },
  { name: 'the people', path: () => '/people', ready: 'ol li' },
  { name: 'a sheet', path: () => `/songs/${song}/sheet`, ready: '.system' },
  { name: 'a person’s pages', path: () => person, ready: '.system' },
  { name: 'a set link', path: () => link, ready: '#who-are-you' },
  { name: 'about', path: () => '/about', ready: 'h1' },
  { name: 'no page', path: () => '/nowhere', ready: 'h1' },
];

describe.each([
  ['tablet', TABLET],
  ['phone', PHONE],
  ['laptop', LAPTOP],
] as const)('On a %s', (_, viewport) => {
  it.each(PAGES)('$name is open to everyone, light and dark (axe, WCAG 2.2 AA)', async (each) => {
    const { page, context, complaints } = await openPage(browser, { viewport });
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      await page.goto(app.address + each.path());
      await open(page, each.path());
      await page.locator(each.ready).first().waitFor({ state: 'attached' });
      expect(await axeFindings(page), colorScheme).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, 'nothing sticks out to the side').toBeLessThanOrEqual(0);
    }
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each(PAGES)('$name has a title of its own and nothing too small to touch', async (each) => {
    const { page, context } = await openPage(browser, { viewport });
    await page.goto(app.address + each.path());
    await open(page, each.path());
    await page.locator(each.ready).first().waitFor({ state: 'attached' });
    expect(await page.title()).toMatch(/.+ · Partbook$/);
    const least = /\/sheet$|\/people\/./.test(each.path()) ? 64 : 44;
    const small = await page.evaluate((size) => {
      const found = [...document.querySelectorAll('button, select, input, [role=button]')];
      return found
        .filter((element) => element.checkVisibility() && !element.closest('label, .skip, .hidden'))
        .map((element) => {
          const { width, height } = element.getBoundingClientRect();
          const name = element.getAttribute('aria-label') ?? element.textContent?.trim() ?? '';
          return { name, width: Math.round(width), height: Math.round(height) };
        })
        .filter(
          ({ width, height }) =>
            Math.min(width, height) < size && !(width > 0 && height >= size && width >= 24),
        );
    }, least);
    expect(small).toEqual([]);
    await context.close();
  });
});

describe('Whoever wants stillness', () => {
  it('gets pages that turn without motion', async () => {
    const options = { viewport: TABLET, reducedMotion: 'reduce' } as const;
    const { page, context } = await openPage(browser, options);
    await page.goto(`${app.address}/songs/${song}/sheet`);
    await page.locator('.system').first().waitFor();
    await page.keyboard.press('ArrowRight');
    const moving = await page.evaluate(() => document.getAnimations().length);
    expect(moving).toBe(0);
    expect(await page.getByTestId('page-of').textContent()).toMatch(/page 2/);
    await context.close();
  });
});
