import type { Browser, Page, ViewportSize } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { hymn, PHONE, TABLET } from './support/pages.ts';
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

/** Opens the sheet of a hymn that is brought anew, when all of it is drawn. */
async function openSheet(name: string, viewport: ViewportSize): Promise<Page> {
  const response = await fetch(`${app.address}/api/songs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ format: 'abc', bytes: hymn(name).toString('base64'), tune: 0 }),
  });
  const { id } = (await response.json()) as { id: string };
  const page = await browser.newPage({ viewport });
  await page.goto(`${app.address}/songs/${id}/sheet`);
  await page.locator('.music svg').first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  return page;
}

describe('A sheet on a tablet', () => {
  it.each(HYMNS)('shows every line of %s whole, two on a page after the first', async (name) => {
    const page = await openSheet(name, TABLET);
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

describe.each([
  ['tablet', TABLET],
  ['tablet held upright', { width: 820, height: 1180 }],
  ['phone', PHONE],
] as const)('The last page of a sheet on a %s', (_, viewport) => {
  it.each(HYMNS)(
    'of %s has music on it, not the credits alone, and every line is seen once',
    async (name) => {
      const page = await openSheet(name, viewport);
      const look = () =>
        page.evaluate(() => {
          const all = [...document.querySelectorAll<HTMLElement>('.inner section')];
          const inner = document.querySelector('.inner')?.getBoundingClientRect();
          return {
            room: inner?.height ?? 0,
            foot: inner?.bottom ?? 0,
            heights: all.map((each) => each.offsetHeight),
            shown: all.flatMap((each, i) => (each.classList.contains('away') ? [] : [i])),
            bottom: Math.max(
              ...all
                .filter((each) => !each.classList.contains('away'))
                .map((each) => each.getBoundingClientRect().bottom),
            ),
          };
        });
      await page.keyboard.press('Home');
      const seen: number[] = [];
      let last = await look();
      for (let turn = 0; turn < 30; turn += 1) {
        last = await look();
        seen.push(...last.shown);
        if (last.shown.length > 1) expect(last.bottom).toBeLessThanOrEqual(last.foot + 2);
        if (last.shown.includes(last.heights.length - 1)) break;
        await page.keyboard.press('PageDown');
      }
      await page.close();
      expect(seen).toEqual(last.heights.map((_height, i) => i));
      const [music = 0, end = 0] = last.heights.slice(-2);
      // Alone only where one line and the end are more than a page.
      if (last.shown.length === 1) expect(music + end).toBeGreaterThan(last.room - 12);
    },
  );
});
