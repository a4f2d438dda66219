import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { chordsOf, inBook, made, press, saved, SOON, tuneOf } from './support/editor.ts';
import { openPage, TABLET, type WatchedPage } from './support/pages.ts';
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

/** One semibreve in the first bar of four. */
const HELD = 'X:1\nT:%\nM:4/4\nL:1/4\nK:G\nA4 | G4 | z4 | G4 |]\n';

async function heldNote(title: string, expected: readonly RegExp[] = []): Promise<WatchedPage> {
  const { id } = await made(app, { format: 'abc', text: HELD.replace('%', title) });
  const watched = await openPage(browser, { viewport: TABLET }, expected);
  await watched.page.goto(`${app.address}/songs/${id}/edit`);
  await watched.page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
  return watched;
}

const here = (page: Page, words: string) =>
  page.locator('#here').getByText(words, { exact: true }).waitFor();

/** Where the cursor is drawn, CSS px from the left; none: not at all. */
const caretX = async (page: Page): Promise<number> =>
  (await page.locator('.caret').boundingBox())?.x ?? Number.NaN;

describe('Chords under a note that is held', () => {
  it('are written beat by beat with Tab, undone, done again, saved, and there when it is opened again', async () => {
    const { page, context, complaints } = await heldNote('Two chords');
    await page.locator('#written-music').focus();
    await press(page, 'Home h');
    await page.keyboard.type('Am');
    await press(page, 'Tab');
    await page.getByRole('form', { name: 'Chord in bar 1, beat 2' }).waitFor();
    await press(page, 'Tab');
    await page.getByRole('form', { name: 'Chord in bar 1, beat 3' }).waitFor();
    await page.keyboard.type('D7');
    await press(page, 'Enter');
    await expect.poll(() => page.locator('.harm').allTextContents(), SOON).toEqual(['Am', 'D7']);
    await press(page, 'Control+z');
    await page.getByText(/^Taken back: .*D7/).waitFor();
    await press(page, 'Control+z Control+Shift+z Control+Shift+z');
    await page.getByText(/^Done again: .*D7/).waitFor();
    await saved(page);
    const song = await inBook(app, 'Two chords');
    expect(chordsOf(song)).toEqual(['Am 0', 'D7 2']);
    expect(tuneOf(song)).toEqual(['A4 4', 'G4 4', 'G4 4']);
    await page.reload();
    await expect.poll(() => page.locator('.harm').allTextContents(), SOON).toEqual(['Am', 'D7']);
    // Back through them: what is emptied goes, and the first one lasts on.
    await page.locator('#written-music').focus();
    await press(page, 'Home Control+ArrowRight h Shift+Tab Shift+Tab');
    const field = page.getByLabel('Chord symbol');
    await expect.poll(() => field.inputValue()).toBe('D7');
    await press(page, 'Backspace Enter');
    await expect
      .poll(async () => chordsOf(await inBook(app, 'Two chords')), SOON)
      .toEqual(['Am 0']);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('have a place of their own: arrows step by beats and their halves, a finger chooses one, and the cursor stands there', async () => {
    const { page, context, complaints } = await heldNote('Places');
    await page.getByRole('button', { name: 'Chords', exact: true }).click();
    await page.locator('#written-music').focus();
    await press(page, 'Home');
    const first = await caretX(page);
    await press(page, 'ArrowRight ArrowRight');
    await here(page, 'bar 1, beat 3: under A4');
    const third = await caretX(page);
    expect(third).toBeGreaterThan(first);
    await press(page, 'Shift+ArrowRight');
    await here(page, 'bar 1, beat 3½: under A4');
    expect(await caretX(page)).toBeGreaterThan(third);
    // A bar in which nothing sounds has beats too; a letter begins a chord there.
    await press(page, 'Control+ArrowRight Control+ArrowRight ArrowRight');
    await here(page, 'bar 3, beat 2: a rest, a whole bar');
    await press(page, 'e');
    await page.keyboard.type('m');
    await press(page, 'Enter');
    // By finger: right of the semibreve of bar 2, before its bar line.
    const bar = await page.locator('.measure[data-bar="1"] .staff path').first().boundingBox();
    if (!bar) throw new Error('bar 2 is not drawn');
    await page.mouse.click(bar.x + bar.width * 0.55, bar.y + 4);
    await page
      .locator('#here')
      .getByText(/^bar 2, beat [23]: under G4$/)
      .waitFor();
    await page.getByRole('group', { name: 'Place of the chord' }).getByText('beat →').click();
    await page
      .locator('#here')
      .getByText(/^bar 2, beat [34]: under G4$/)
      .waitFor();
    const caret = await caretX(page);
    expect(caret).toBeGreaterThan(bar.x + bar.width * 0.4);
    expect(caret).toBeLessThan(bar.x + bar.width);
    await page.getByRole('button', { name: 'D7' }).click();
    await saved(page);
    await expect.poll(async () => chordsOf(await inBook(app, 'Places')), SOON).toEqual([expect.stringMatching(/^D7 [67]$/), 'Em 9']); // prettier-ignore
    // Notes have their beginnings only.
    await press(page, 'ArrowLeft');
    await page.getByRole('button', { name: 'Notes', exact: true }).click();
    await expect
      .poll(() => page.locator('#here').textContent())
      .toMatch(/^bar 2, beat 1: G4, whole/);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('The song that is written', () => {
  it('sounds from the cursor on at Space, the cursor goes along, and it stops at an edit', async () => {
    const { page, context, complaints } = await heldNote('Heard');
    await page.getByRole('button', { name: 'Chords', exact: true }).click();
    await page.locator('#written-music').focus();
    await press(page, 'Home ArrowRight ArrowRight Space');
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
    await page
      .locator('#here')
      .getByText(/^bar 1, beat 4/)
      .waitFor({ timeout: 30_000 });
    expect(await page.locator('.heard').count()).toBe(0);
    await page.getByRole('button', { name: 'C', exact: true }).click();
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    // The field of a chord stays where it was opened.
    await press(page, 'Space');
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
    await press(page, 'h');
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    await page.getByLabel('Chord symbol').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('sounds in plain tones where the piano cannot be fetched, and says so', async () => {
    const { page, context } = await heldNote('Plain', [/ERR_FAILED/]);
    await page.route('**/samples/**', (route) => route.abort());
    await page.locator('#written-music').focus();
    await press(page, 'Home Space');
    await page.getByText('The recorded piano could not be fetched').waitFor();
    await page
      .locator('#here')
      .getByText(/^bar 2/)
      .waitFor({ timeout: 30_000 });
    await press(page, 'Space');
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    await context.close();
  });
});
