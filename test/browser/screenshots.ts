/**
 * Every screen as it is seen on a tablet, a phone and a laptop, light and dark, and the sheets as printed pages, from the
 * built app with a small made-up team: `npm run screenshots`. The pictures go to test/results/screens.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { launchChromium } from '../support/chromium.ts';
import { hymn, LAPTOP, PHONE, TABLET } from './support/pages.ts';
import { startApp } from './support/running-app.ts';

const OUT = 'test/results/screens';
const SIZES = { tablet: TABLET, phone: PHONE, laptop: LAPTOP } as const;
const THEMES = ['light', 'dark'] as const;

interface Shown {
  readonly name: string;
  readonly path: string;
  /** What must be there before the picture is taken. */
  readonly ready: string;
  readonly prepare?: (page: Page) => Promise<void>;
  readonly whole?: boolean;
}

async function post(address: string, path: string, body: object): Promise<{ id: string }> {
  const response = await fetch(`${address}/api${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return (await response.json()) as { id: string };
}

async function change(address: string, path: string, body: object): Promise<void> {
  const before = await fetch(`${address}/api${path}`);
  const response = await fetch(`${address}/api${path}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json', 'if-match': before.headers.get('etag') ?? '' },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
}

/** A library, three singers and a beginner at the keys; the names are made up. */
async function furnish(address: string): Promise<{ grace: string; emmanuel: string }> {
  const ids = new Map<string, string>();
  for (const file of readdirSync('seed-data/hymns').filter((name) => name.endsWith('.abc'))) {
    const name = file.replace(/\.abc$/, '');
    const bytes = hymn(name).toString('base64');
    ids.set(name, (await post(address, '/songs', { format: 'abc', bytes, tune: 0 })).id);
  }
  const ruth = await post(address, '/members', {
    name: 'Ruth',
    roles: ['lead voice'],
    comfortable: { low: 'A3', high: 'C5' },
  });
  const tomas = await post(address, '/members', {
    name: 'Tomas',
    roles: ['harmony voice', 'guitar'],
    comfortable: { low: 'C3', high: 'E4' },
  });
  const ines = await post(address, '/members', {
    name: 'Ines',
    roles: ['keys'],
    level: 'beginner',
  });
  await post(address, '/members', {
    name: 'Mila',
    roles: ['harmony voice'],
    child: true,
    comfortable: { low: 'C4', high: 'D5' },
  });
  const grace = ids.get('Amazing_Grace-New_Britain') ?? '';
  await change(address, `/songs/${grace}/arrangement`, {
    singers: [ruth.id, tomas.id],
    lead: ruth.id,
    player: ines.id,
    key: { tonic: 'F', mode: 'major' },
  });
  return { grace, emmanuel: ids.get('O_Come_O_Come_Emmanuel-Veni_Emmanuel') ?? '' };
}

function screens({ grace, emmanuel }: { grace: string; emmanuel: string }): Shown[] {
  return [
    { name: 'songs', path: '/songs', ready: 'ol li' },
    {
      name: 'import',
      path: '/songs/new',
      ready: 'textarea',
      prepare: async (page) => {
        await page.locator('textarea').fill(hymn('Silent_Night-Stille_Nacht').toString('latin1'));
        await page.getByRole('button', { name: 'Keep this song' }).waitFor();
      },
    },
    {
      name: 'import-broken',
      path: '/songs/new',
      ready: 'textarea',
      prepare: async (page) => {
        const text = hymn('Amazing_Grace-New_Britain').toString('latin1');
        await page.locator('textarea').fill(text.replace(/\|/, '').replace('M: 3/4', 'M: 3/'));
        await page.waitForTimeout(200);
      },
    },
    { name: 'song', path: `/songs/${grace}`, ready: '.system', whole: true },
    { name: 'song-doubt', path: `/songs/${emmanuel}`, ready: '.system' },
    {
      name: 'song-chord',
      path: `/songs/${grace}`,
      ready: '.system .harm[role=button]',
      prepare: async (page) => page.locator('.system .harm').nth(3).click(),
    },
    {
      name: 'people',
      path: '/people',
      ready: 'ol li',
      prepare: async (page) => {
        await page.getByRole('button', { name: /^Ruth/ }).click();
      },
      whole: true,
    },
    { name: 'sheet-1', path: `/songs/${grace}/sheet`, ready: '.system' },
    {
      name: 'sheet-2',
      path: `/songs/${grace}/sheet`,
      ready: '.system',
      prepare: async (page) => page.keyboard.press('ArrowRight'),
    },
    {
      name: 'sheet-last',
      path: `/songs/${grace}/sheet`,
      ready: '.system',
      prepare: async (page) => page.keyboard.press('End'),
    },
    { name: 'about', path: '/about', ready: 'h1' },
  ];
}

async function take(page: Page, address: string, shown: Shown, file: string): Promise<void> {
  await page.goto(address + shown.path);
  await page.locator(shown.ready).first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.fonts.ready);
  await shown.prepare?.(page);
  await page.waitForTimeout(350);
  await page.screenshot({ path: `${OUT}/${file}.png`, fullPage: shown.whole ?? false });
}

async function print(browser: Browser, address: string, id: string): Promise<void> {
  const page = await browser.newPage({ viewport: TABLET });
  await page.goto(`${address}/songs/${id}/sheet`);
  await page.locator('.system').first().waitFor();
  await page.evaluate(() => document.fonts.ready);
  for (const format of ['A4', 'Letter'] as const) {
    const file = `${OUT}/print-${format}.pdf`;
    writeFileSync(file, await page.pdf({ format }));
    execFileSync('pdftoppm', ['-r', '80', '-png', file, file.replace('.pdf', '')]);
  }
  await page.close();
}

const wanted = process.argv[2];
rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
const [app, browser] = await Promise.all([startApp(), launchChromium()]);
try {
  const empty = await browser.newPage({ viewport: TABLET });
  await empty.goto(`${app.address}/songs`);
  await empty
    .getByText('The book is empty')
    .waitFor({ timeout: 3000 })
    .catch(() => undefined);
  await empty.screenshot({ path: `${OUT}/songs-first-tablet-light.png` });
  await empty.close();
  const songs = await furnish(app.address);
  for (const [size, viewport] of Object.entries(SIZES)) {
    for (const colorScheme of THEMES) {
      const page = await browser.newPage({ viewport, colorScheme });
      for (const shown of screens(songs)) {
        if (wanted && !shown.name.startsWith(wanted)) continue;
        await take(page, app.address, shown, `${shown.name}-${size}-${colorScheme}`);
      }
      await page.close();
    }
  }
  await print(browser, app.address, songs.grace);
  process.stdout.write(`${readdirSync(OUT).length} pictures in ${OUT}\n`);
} finally {
  await browser.close();
  await app.stop();
}
