import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { hymn, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});
afterAll(async () => {
  await browser.close();
  await app.stop();
});

/** Few shapes, eight shapes, more than eight. */
const HYMNS = [
  'Amazing_Grace-New_Britain',
  'O_Come_O_Come_Emmanuel-Veni_Emmanuel',
  'The_Churchs_One_Foundation-Aurelia',
];

describe('A sheet on a tablet', () => {
  it.each(HYMNS)('shows every line of %s whole, two on a page after the first', async (name) => {
    const response = await fetch(`${app.address}/api/songs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ format: 'abc', bytes: hymn(name).toString('base64'), tune: 0 }),
    });
    const { id } = (await response.json()) as { id: string };
    const page = await browser.newPage({ viewport: TABLET });
    await page.goto(`${app.address}/songs/${id}/sheet`);
    await page.locator('.music svg').first().waitFor({ state: 'attached' });
    await page.evaluate(() => document.fonts.ready.then(() => undefined));
    const { room, blocks, lines } = await page.evaluate(() => ({
      room: document.querySelector('.inner')?.clientHeight ?? 0,
      blocks: [...document.querySelectorAll<HTMLElement>('.inner section')].map(
        (each) => each.offsetHeight,
      ),
      lines: [...document.querySelectorAll<HTMLElement>('.music')].map((each) => each.offsetHeight),
    }));
    await page.close();
    expect(lines.length).toBeGreaterThan(3);
    expect(Math.max(...blocks)).toBeLessThanOrEqual(room);
    expect(2 * Math.max(...lines)).toBeLessThanOrEqual(room);
  });
});
