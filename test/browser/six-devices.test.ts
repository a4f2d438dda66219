import type { Browser, BrowserContextOptions } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { openPage, type WatchedPage } from './support/pages.ts';
import { call } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let path: string;

/** Milliseconds: six browsers and the server share one machine here. */
const PATIENCE = 90_000;

interface Device {
  readonly name: string;
  /** As the leader's list has it; of a child, the link does not say the name. */
  readonly shownAs: string;
  /** What the first page says it is, and for whom; nobody else's says so. */
  readonly heading: RegExp;
  readonly options: BrowserContextOptions;
}

const device = (width: number, height: number): BrowserContextOptions => ({
  viewport: { width, height },
  hasTouch: true,
});

/** Who serves in the planned service of the demo, each with what they hold. */
const DEVICES: readonly Device[] = [
  { name: 'Marit', shownAs: 'Marit', heading: /order of service/, options: device(1180, 820) },
  {
    name: 'Joel',
    shownAs: 'Joel',
    heading: /keys, first rung, for Joel/,
    options: device(1366, 1024),
  },
  { name: 'Ada', shownAs: 'Ada', heading: /lead voice, for Ada/, options: device(390, 844) },
  {
    name: 'Elias',
    shownAs: 'Elias',
    heading: /guitar, words with chords, for Elias/,
    options: device(820, 1180),
  },
  {
    name: 'Tomas',
    shownAs: 'Tomas',
    heading: /harmony voice, .*for Tomas/,
    options: device(360, 740),
  },
  {
    name: 'Wren',
    shownAs: 'a harmony voice',
    // The rubric says it once; beside it stands the day alone, without a “for”.
    heading: /harmony voice\s*\p{L}+day, \d/u,
    options: device(768, 1024),
  },
];

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp('demo'), launchChromium()]);
  const { services } = (await call(app.address, 'GET', '/services')) as {
    services: { id: string; over: boolean }[];
  };
  const planned = services.find(({ over }) => !over);
  const made = await call(app.address, 'POST', `/services/${planned?.id ?? ''}/links`, {});
  path = made['path'] as string;
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** Opens the link, picks the name and waits for the first page. */
async function open({ shownAs, options }: Device): Promise<WatchedPage> {
  const watched = await openPage(browser, options);
  const { page } = watched;
  await page.goto(app.address + path, { timeout: PATIENCE });
  await page
    .getByRole('button', { name: new RegExp(`^${shownAs}`) })
    .first()
    .tap();
  await page.getByTestId('where').waitFor({ timeout: PATIENCE });
  await page.locator('.sheet.open').first().waitFor({ state: 'attached', timeout: PATIENCE });
  return watched;
}

describe('Six telephones and tablets with one link', () => {
  it('show each their own pages at the same time, and nobody another’s', async () => {
    const opened = await Promise.all(DEVICES.map(open));
    const seen = await Promise.all(
      opened.map(({ page }) => page.locator('.sheet.open').first().textContent()),
    );
    for (const [at, text] of seen.entries()) {
      const said = DEVICES.filter(({ heading }) => heading.test(text ?? ''));
      expect(said.map(({ name }) => name)).toEqual([DEVICES[at]?.name]);
    }
    // Whoever leads the service begins with its order.
    expect(seen[0]).toMatch(/Holy, Holy, Holy[\s\S]*Psalm 46[\s\S]*Prayers of the people/);
    for (const { context, complaints } of opened) {
      expect(complaints).toEqual([]);
      await context.close();
    }
  }, 180_000);
});
