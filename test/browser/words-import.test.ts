import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, PHONE, TABLET } from './support/pages.ts';
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

const TEXT = [
  'The Evening Lamp',
  '',
  'Verse 1',
  'G        C     G',
  'A lamp in the window',
  'Go',
  'out to the light',
  '',
  'Refrain',
  'D    G',
  'Burn low',
  '',
  'Refrain',
].join('\n');

describe('Words with chords, pasted', () => {
  it('show what each line was taken for; a tap changes a line, the keyboard a word; undone; kept and opened', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill(TEXT);
    const taken = page.getByRole('region', { name: 'What each line was taken for' });
    await taken.getByRole('button', { name: 'Line 4: chords; change' }).waitFor();
    await taken.getByRole('button', { name: 'Line 6: words, in doubt; change' }).click();
    await taken.getByRole('button', { name: 'Line 6: chords; change' }).waitFor();
    await page.getByText('Line 6 is chords now.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await taken.getByRole('button', { name: 'Line 6: words, in doubt; change' }).waitFor();
    await taken.getByRole('button', { name: 'C: chord; change' }).focus();
    await page.keyboard.press('Enter');
    await taken.getByRole('button', { name: 'C: sung; change' }).waitFor();
    await page.keyboard.press('Enter');
    await taken.getByRole('button', { name: 'C: left out; change' }).waitFor();
    await page.keyboard.press('Enter');
    await taken.getByRole('button', { name: 'C: chord; change' }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: 'The Evening Lamp' }).waitFor();
    const words = page.getByRole('region', { name: 'Words with chords' });
    await words.waitFor();
    expect(await words.getByRole('heading').allTextContents()).toEqual(['verse 1', 'refrain', 'refrain']); // prettier-ignore
    await page.getByText('but no melody').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('can be read as ABC instead, and say with a line why that does not work', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill(TEXT);
    await page.getByRole('button', { name: 'ABC notation' }).click();
    await page.getByText('It cannot be read yet').waitFor();
    await page.getByRole('button', { name: 'Words with chords' }).click();
    await page.getByRole('button', { name: 'Keep this song' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width); // prettier-ignore
    expect(complaints).toEqual([]);
    await context.close();
  });
});
