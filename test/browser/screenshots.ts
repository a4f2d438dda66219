/**
 * Every screen as it is seen on a tablet, a phone and a laptop, light and dark, and the sheets as printed pages, from the
 * built app with the demo of a fresh install: `npm run screenshots`. The pictures go to test/results/screens.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { launchChromium } from '../support/chromium.ts';
import { findDemo, type Demo } from './support/demo.ts';
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

const turn = (times: number) => async (page: Page) => {
  for (let i = 0; i < times; i += 1) {
    await page.keyboard.press('ArrowRight');
    await page.waitForTimeout(150);
  }
};

/** Turns until the words are seen, 20 pages at most. */
const turnTo = (words: RegExp) => async (page: Page) => {
  const found = page.getByText(words).first();
  for (let i = 0; i < 20 && !(await found.isVisible()); i += 1) await turn(1)(page);
};

function screens(demo: Demo): Shown[] {
  const grace = demo.song('Amazing Grace');
  const emmanuel = demo.song('O Come O Come Emmanuel');
  const order = `/services/${demo.service}`;
  const pagesOf = (name: string): string => `${order}/people/${demo.person(name)}`;
  const pages = (name: string, turns = 0): Shown => ({
    name: `pages-${name.toLowerCase()}${turns === 0 ? '' : `-${turns}`}`,
    path: pagesOf(name),
    ready: '.leaf section',
    prepare: turn(turns),
  });
  return [
    { name: 'services', path: '/', ready: 'main li', whole: true },
    { name: 'order', path: order, ready: 'main li', whole: true },
    {
      name: 'order-song',
      path: order,
      ready: 'main li',
      prepare: async (page) => {
        await page.getByText('Carry the Morning').first().click();
        await page.getByText('who leads it').first().waitFor();
      },
      whole: true,
    },
    {
      name: 'order-link',
      path: order,
      ready: 'main li',
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Make a set link' }).click();
        await page.locator('main svg[role=img]').last().waitFor();
      },
      whole: true,
    },
    {
      name: 'order-missing',
      path: order,
      ready: 'main li',
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Somebody is missing' }).click();
        const panel = page.getByRole('region', { name: 'ten minutes before' });
        const ada = panel.getByRole('group', { name: 'What happened to Ada' });
        await ada.getByRole('button', { name: 'cannot come' }).click();
        await panel.getByText(/^(Planning|Planned; the bars)/).waitFor({ state: 'detached' });
        await panel.getByRole('list', { name: 'Song by song' }).waitFor();
      },
      whole: true,
    },
    {
      name: 'order-whole-staff',
      path: order,
      ready: '[aria-labelledby=whole-staff] svg',
      prepare: async (page) => {
        const staff = page.getByRole('region', { name: 'the whole service' });
        await staff.evaluate((section) => section.scrollIntoView({ block: 'start' }));
      },
    },
    { name: 'year', path: '/songs/year', ready: 'main table', whole: true },
    pages('Marit'),
    pages('Marit', 1),
    pages('Joel'),
    pages('Joel', 1),
    pages('Ada'),
    pages('Elias', 8),
    { name: 'team', path: '/team', ready: 'main h1', whole: true },
    { name: 'link', path: demo.link, ready: 'main h1', whole: true },
    { name: 'songs', path: '/songs', ready: 'ol li' },
    {
      name: 'songs-asked',
      path: '/songs?q=grace&meter=3%2F4&low=A3&high=D5&accidentals=2',
      ready: 'ol li',
      prepare: async (page) => page.getByRole('button', { name: 'narrow it down' }).click(),
      whole: true,
    },
    {
      name: 'by-tune',
      path: '/songs/by-tune?notes=D4,G4,B4,G4,B4,A4,G4',
      ready: 'ol li',
      whole: true,
    },
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
    {
      name: 'import-many',
      path: '/songs/new',
      ready: 'textarea',
      prepare: async (page) => {
        const files = [
          { name: 'Azmon.abc', buffer: hymn('O_For_A_Thousand_Tongues-Azmon') },
          { name: 'Nicaea.abc', buffer: hymn('Holy_Holy_Holy-Nicaea') },
          { name: 'cut off.musicxml', buffer: Buffer.from('<score-partwise><part-list>') },
        ];
        await page
          .getByLabel('Choose files')
          .setInputFiles(files.map((file) => ({ ...file, mimeType: 'text/plain' })));
        await page.getByText(/could not be read\.$/).waitFor();
      },
      whole: true,
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
      name: 'song-trades',
      path: `/songs/${demo.song('Abide With Me')}`,
      ready: '[aria-label="Keys that stay"] [role=radio]',
      prepare: async (page) => {
        await page.getByText(/^Trying every key/).waitFor({ state: 'detached' });
        const trades = page.locator('figure').filter({ hasText: 'what each key trades' });
        await trades.getByRole('radio', { checked: false }).first().click();
        await trades.evaluate((figure) => figure.scrollIntoView({ block: 'start' }));
      },
    },
    {
      name: 'song-still-singing',
      path: `/songs/${grace}`,
      ready: '.system',
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Who is still singing?' }).click();
        const panel = page.getByRole('region', { name: 'Who is still singing?' });
        await panel.getByRole('slider').waitFor();
        await panel.evaluate((section) => section.scrollIntoView({ block: 'start' }));
      },
    },
    { name: 'edit', path: `/songs/${grace}/edit`, ready: '.place' },
    {
      name: 'edit-words',
      path: `/songs/${grace}/edit`,
      ready: '.place',
      prepare: async (page) => page.getByRole('button', { name: 'Words', exact: true }).click(),
    },
    { name: 'write', path: '/songs/write', ready: '.place' },
    {
      name: 'people',
      path: '/people',
      ready: 'ol li',
      prepare: async (page) => {
        await page.getByRole('button', { name: /^Joel/ }).click();
      },
      whole: true,
    },
    {
      name: 'people-find-range',
      path: '/people',
      ready: 'ol li',
      prepare: async (page) => {
        await page.getByRole('button', { name: /^Joel/ }).first().click(); // prettier-ignore
        await page.getByRole('button', { name: 'Find it in two minutes' }).click();
        await page.getByRole('button', { name: /^a lower voice/ }).click();
        const asked = page.getByRole('region', { name: 'Finding the range of Joel' });
        await asked.evaluate((section) => section.scrollIntoView({ block: 'center' }));
      },
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
    {
      name: 'sheet-raised',
      path: `/songs/${demo.raised}/sheet`,
      ready: '.system',
      prepare: turnTo(/in e major/i),
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

async function print(browser: Browser, address: string, path: string, name: string): Promise<void> {
  const page = await browser.newPage({ viewport: TABLET });
  await page.goto(address + path);
  await page.locator('.system').first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.fonts.ready);
  for (const format of ['A4', 'Letter'] as const) {
    const file = `${OUT}/${name}-${format}.pdf`;
    writeFileSync(file, await page.pdf({ format }));
    execFileSync('pdftoppm', ['-r', '80', '-png', file, file.replace('.pdf', '')]);
  }
  await page.close();
}

const wanted = process.argv[2];
rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
const [app, browser] = await Promise.all([startApp('demo'), launchChromium()]);
try {
  const demo = await findDemo(app.address);
  for (const [size, viewport] of Object.entries(SIZES)) {
    for (const colorScheme of THEMES) {
      const page = await browser.newPage({ viewport, colorScheme });
      for (const shown of screens(demo)) {
        if (wanted && !shown.name.startsWith(wanted)) continue;
        await take(page, app.address, shown, `${shown.name}-${size}-${colorScheme}`);
      }
      await page.close();
    }
  }
  await print(browser, app.address, `/songs/${demo.song('Amazing Grace')}/sheet`, 'print');
  const joel = `/services/${demo.service}/people/${demo.person('Joel')}`;
  await print(browser, app.address, joel, 'print-packet');
  process.stdout.write(`${readdirSync(OUT).length} pictures in ${OUT}\n`);
} finally {
  await browser.close();
  await app.stop();
}
