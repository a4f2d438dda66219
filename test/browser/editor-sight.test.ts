import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { inBook, made, press, saved } from './support/editor.ts';
import { axeFindings, drop, hymn, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const LONG = 120_000;
const ASSURANCE = 'Blessed_Assurance-Blessed_Assurance-Assurance';

/** A tune of our own: a verse of two bars, and a refrain that begins on the last eighth of bar 2. */
const LADDER = `X:1
T:Ladder of our own
M:4/4
L:1/4
Q:1/4=84
K:C
CDEF | GAB c/2d/2 | cBAG | FED2 |]
`;

const ladder = (): Promise<Song> => made(app, { format: 'abc', text: LADDER });

async function edit({ id }: Song): Promise<WatchedPage> {
  const watched = await openPage(browser, { viewport: TABLET });
  await watched.page.goto(`${app.address}/songs/${id}/edit`);
  await watched.page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
  return watched;
}

const panel = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).click();

describe('What one looks for on the page where a song is written', () => {
  it(
    'is the name of a section over its first note, the tempo at the start, a chord field that is whole',
    async () => {
      const text = hymn(ASSURANCE).toString('utf8');
      const song = await made(app, { format: 'abc', text });
      const { page, context, complaints } = await edit(song);
      const name = page.getByRole('button', { name: 'Refrain: change the section' });
      const word = page.locator('.syl', { hasText: /^This$/ }).first();
      const [heading, sung] = [await name.boundingBox(), await word.boundingBox()];
      // “This is my story” begins the refrain, in the middle of bar 8 (Open Hymnal).
      expect(Math.abs((heading?.x ?? 0) - (sung?.x ?? Infinity))).toBeLessThan(24);
      expect(await page.locator('.tempo text').first().textContent()).toBe('= 100');
      const region = page.locator('#written-music');
      await press(page, 'Control+ArrowRight Control+ArrowRight Control+ArrowRight');
      await press(page, 'Control+ArrowRight Control+ArrowRight h');
      const field = page.locator('#written-music form');
      await field.waitFor();
      await page.waitForTimeout(300);
      const [box, music] = [await field.boundingBox(), await region.boundingBox()];
      if (!box || !music) throw new Error('nothing is drawn');
      expect(box.y).toBeGreaterThanOrEqual(music.y);
      expect(box.y + box.height).toBeLessThanOrEqual(music.y + music.height);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );

  it(
    'is not what was said on the page before',
    async () => {
      const { page, context } = await openPage(browser, { viewport: TABLET });
      await page.goto(`${app.address}/songs/import`);
      await drop(page, 'ladder.abc', Buffer.from(LADDER.replace('of our own', 'that is kept')));
      await page.getByRole('button', { name: 'Keep this song' }).click();
      const said = page.getByText('Ladder that is kept is in the book.');
      await said.waitFor();
      await page.getByRole('link', { name: 'Write and correct' }).click();
      await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
      expect(await said.count()).toBe(0);
      await context.close();
    },
    LONG,
  );
});

describe('A refrain on its own pickup', () => {
  it(
    'begins with the note at the cursor, and its words are for all verses',
    async () => {
      const { page, context, complaints } = await edit(await ladder());
      await press(page, 'Home Control+ArrowRight ArrowRight ArrowRight ArrowRight ArrowRight');
      await panel(page, 'Sections');
      await page.getByRole('button', { name: 'with this note' }).click();
      await page.getByText('From bar 2, beat 4½ on begin a').waitFor();
      await page.getByRole('button', { name: 'refrain', exact: true }).click();
      await page.getByText('Refrain begins with bar 2, beat 4½').first().waitFor();
      await panel(page, 'Words');
      const section = page.getByRole('combobox', { name: 'Section' });
      await section.selectOption({ index: 0 });
      await page.getByRole('textbox').last().fill('one two three four five six sev-en');
      await page.getByRole('button', { name: 'one more verse' }).click();
      await page.getByRole('textbox').last().fill('more and more and more and more yet');
      await section.selectOption({ index: 1 });
      await page.getByText('for all verses', { exact: true }).waitFor();
      await page
        .getByLabel('Words of Refrain, for all verses')
        .fill('Oh praise and praise and sing');
      await saved(page);
      expect(await axeFindings(page)).toEqual([]);
      const { score } = await inBook(app, 'Ladder of our own');
      expect(score.sections.map(({ from }) => from / 20160)).toEqual([0, 7.5]);
      expect(score.form.map(({ verse }) => verse)).toEqual([1, null, 2, null]);
      const tune = score.voices.find(({ id }) => id === score.melody);
      const first = tune?.notes.find(({ at }) => at === 7.5 * 20160);
      expect(first?.syllables).toEqual([{ text: 'Oh' }]);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});
