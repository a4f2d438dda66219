import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { drop, hymn, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { printBlocks } from './support/printed.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  watched = await openPage(browser, { viewport: TABLET, hasTouch: true });
  page = watched.page;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** `page 2 of 3` at the foot of the sheet. */
const pageOf = async () => (await page.getByTestId('page-of').textContent())?.trim() ?? '';

describe('From a hymn to a beginner’s page, by someone who has never seen it', () => {
  it('drops a hymn file on the book of songs and reads what was understood', async () => {
    await page.goto(`${app.address}/songs`);
    await page.getByRole('heading', { name: 'Songs' }).waitFor();
    await drop(page, 'Amazing_Grace-New_Britain.abc', hymn('Amazing_Grace-New_Britain'));
    await page.getByRole('heading', { name: 'Amazing Grace' }).waitFor();
    const read = page.getByRole('region', { name: 'What was read' });
    expect(await read.textContent()).toMatch(/G major/);
    expect(await read.textContent()).toMatch(/John Newton/);
    expect(await read.textContent()).toMatch(/4 voices/);
  });

  it('keeps the song and stands on its page, engraved with words and chords', async () => {
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: 'Amazing Grace' }).waitFor();
    await page.locator('.system').first().waitFor();
    expect(await page.locator('.system .syl').first().textContent()).toMatch(/A/);
    expect(await page.locator('.system .harm').count()).toBeGreaterThan(8);
  });

  it('adds Sunday’s singer there, A3 to C5, and reads why G is too high for her', async () => {
    await page.getByPlaceholder('add a name').fill('Ruth');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByRole('button', { name: /^A 3/ }).tap();
    await page.getByRole('radio', { name: /highest that sits easily/ }).check();
    await page.getByRole('button', { name: /^C 5/ }).tap();
    const fit = page.locator('#key-fit');
    const hers = fit.locator('.reasons p').filter({ hasText: 'for Ruth' });
    // As the file has it: `d3- | d2` in bars 7 and 8 of three beats, the highest note of the tune.
    await hers
      .filter({
        hasText: /^\s*(☞\s*)?Too high for Ruth: bar 7 holds D5 for five beats, a step above C5/,
      })
      .waitFor();
    expect(await hers.count()).toBe(1);
    await fit.getByRole('button', { name: 'Take F major', exact: true }).waitFor();
  });

  it('takes F, a step down, and sees the song in F at once', async () => {
    await page.locator('#key-fit').getByRole('button', { name: 'F major', exact: true }).click();
    await page.getByRole('heading', { name: 'In F major' }).waitFor();
    expect(await page.getByText('written in G major').count()).toBe(1);
  });

  it('corrects a chord by a tap, sees why it was guessed, and takes it back', async () => {
    const chord = page.getByRole('button', { name: /^C7, bar 14, beat 3/ });
    await chord.click();
    const editor = page.getByRole('form', { name: /Chord in bar 14/ });
    expect(await editor.textContent()).toMatch(/bar 14, beat 3: .* sound/);
    await editor.getByLabel('Chord symbol').fill('H7x');
    await editor.getByRole('button', { name: 'Write' }).click();
    await editor.getByRole('alert').filter({ hasText: /\w/ }).waitFor();
    await editor.getByLabel('Chord symbol').fill('C');
    await editor.getByRole('button', { name: 'Write' }).click();
    await page.getByRole('button', { name: 'C, bar 14, beat 3: change' }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: /^C7, bar 14, beat 3, a guess/ }).waitFor();
  });

  it('opens the beginner’s sheet: fingers, hand pictures and moves in words', async () => {
    await page.getByRole('link', { name: 'Beginner’s sheet' }).click();
    await page.locator('.system').first().waitFor();
    expect(await page.getByTestId('sheet-key').textContent()).toMatch(/F major/);
    expect(await page.locator('.system .fing').count()).toBeGreaterThan(8);
    expect(await page.getByRole('img', { name: /right hand/ }).count()).toBeGreaterThan(2);
    expect(await page.locator('.moves').first().textContent()).toMatch(/stays|up|down|thumb/);
  });

  it('turns pages by tap, swipe, arrows, page keys and the space bar', async () => {
    expect(await pageOf()).toMatch(/^page 1 of [2-9]$/);
    const { width, height } = TABLET;
    await page.touchscreen.tap(width * 0.8, height / 2);
    expect(await pageOf()).toMatch(/^page 2/);
    await page.touchscreen.tap(width * 0.1, height / 2);
    expect(await pageOf()).toMatch(/^page 1/);
    await page.mouse.move(900, 400);
    await page.mouse.down();
    await page.mouse.move(500, 410, { steps: 4 });
    await page.mouse.up();
    expect(await pageOf()).toMatch(/^page 2/);
    await page.mouse.move(300, 400);
    await page.mouse.down();
    await page.mouse.move(800, 390, { steps: 4 });
    await page.mouse.up();
    expect(await pageOf()).toMatch(/^page 1/);
    for (const [key, at] of [
      ['ArrowRight', 2],
      ['ArrowLeft', 1],
      ['PageDown', 2],
      ['PageUp', 1],
      ['Space', 2],
      ['Home', 1],
    ] as const) {
      await page.keyboard.press(key);
      expect(await pageOf(), key).toMatch(new RegExp(`^page ${at} `));
    }
  });

  it.each([
    ['A4', 595, 842],
    ['Letter', 612, 792],
  ] as const)('prints on %s, every system whole, in few pages', async (format, width, height) => {
    const systems = await page.locator('svg.system').count();
    expect(systems).toBeGreaterThan(2);
    const printed = await printBlocks(page, '.leaf section', 'svg.system', format);
    expect(printed.pages.length).toBeLessThan(5);
    for (const size of printed.pages) {
      expect(Math.abs(size.width - width)).toBeLessThanOrEqual(1);
      expect(Math.abs(size.height - height)).toBeLessThanOrEqual(1);
    }
    expect(printed.blocks.filter(({ has }) => has)).toHaveLength(systems);
    for (const { name, first, last } of printed.blocks) expect(last, name).toBe(first);
  });

  it('leaves the sheet by Escape, to the song, which is still in F', async () => {
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { level: 1, name: 'Amazing Grace' }).waitFor();
    await page.getByRole('heading', { name: 'In F major' }).waitFor();
  });

  it('took nothing amiss on the way: the console stayed silent', () => {
    expect(watched.complaints).toEqual([]);
  });
});
