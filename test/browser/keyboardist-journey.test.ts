import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let planned: PlannedService;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  planned = await planService(app.address);
  watched = await openPage(browser, { viewport: TABLET, hasTouch: true });
  page = watched.page;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** All sheets are engraved anew; a busy machine takes its time. */
const SOON = { timeout: 20_000 };
const where = async () => (await page.getByTestId('where').innerText()).replace(/\s+/g, ' ').trim();
const shown = () => page.locator('.sheet.open');

describe('Ines at the keys, from the link to the last song', () => {
  it('stands on her first page one tap after the link', async () => {
    await page.goto(app.address + planned.path);
    let taps = 1; // The link itself.
    await page.getByRole('button', { name: /^Ines/ }).tap();
    taps += 1;
    await page.getByTestId('where').waitFor();
    await shown().locator('.system').first().waitFor();
    expect(taps).toBeLessThanOrEqual(2);
    expect(await where()).toMatch(/^1 of 3 Amazing Grace page 1 of [2-9]$/);
    expect(await page.getByTestId('next').innerText()).toBe(
      'next: O Come O Come Emmanuel, in E minor',
    );
  });

  it('reads it in C with the button at +2, and is reminded to put it back', async () => {
    expect(await shown().getByTestId('sheet-key').innerText()).toBe('C major');
    expect(await shown().getByTestId('played').innerText()).toContain(
      'play in C, keyboard set to +2: it sounds in D',
    );
    expect(await shown().getByTestId('reminder').textContent()).toContain(
      'Set the keyboard back to 0 after this song.',
    );
  });

  it('turns past the last page of a song into the next, which says what to put back', async () => {
    for (let i = 0; i < 9 && !(await where()).startsWith('2 of 3'); i += 1) {
      await page.touchscreen.tap(TABLET.width * 0.8, TABLET.height / 2);
    }
    expect(await where()).toMatch(/^2 of 3 O Come O Come Emmanuel page 1 of/);
    expect(await shown().innerText()).toContain(
      'The keyboard is still at +2 from Amazing Grace: set it back to 0.',
    );
    await page.touchscreen.tap(TABLET.width * 0.1, TABLET.height / 2);
    expect(await where()).toMatch(/^1 of 3 Amazing Grace page ([2-9]) of \1$/);
  });

  it('goes to any song by the list, with keys alone, in large targets', async () => {
    await page.getByTestId('where').focus();
    await page.keyboard.press('Enter');
    const list = page.getByRole('dialog');
    await list.waitFor();
    expect(await axeFindings(page)).toEqual([]);
    for (const button of await list.getByRole('button').all()) {
      const box = await button.boundingBox();
      expect(box?.height, await button.innerText()).toBeGreaterThanOrEqual(64);
    }
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await list.waitFor({ state: 'detached' });
    expect(await where()).toMatch(/^3 of 3 Silent Night page 1 of/);
    await page.getByTestId('where').tap();
    await list.getByRole('button', { name: /Amazing Grace/ }).tap();
    expect(await where()).toMatch(/^1 of 3 Amazing Grace page 1 of/);
  });

  it('reads the song as it sounds instead, then in G; the place and the choice are kept', async () => {
    await page.keyboard.press('ArrowRight');
    await page.getByTestId('where').tap();
    await page.getByRole('button', { name: 'D, as it sounds' }).tap();
    await expect
      .poll(() => page.getByTestId('sheet-key').first().textContent(), SOON)
      .toBe('D major');
    await page.getByRole('button', { name: 'G, set −5' }).tap();
    await expect
      .poll(() => page.getByTestId('sheet-key').first().textContent(), SOON)
      .toBe('G major');
    await page.keyboard.press('Escape');
    expect(await where()).toMatch(/^1 of 3 Amazing Grace page 2 of/);
    await page.reload();
    await shown().locator('.system').first().waitFor();
    expect(await shown().getByTestId('played').innerText()).toContain(
      'play in G, keyboard set to −5: it sounds in D',
    );
  });

  it('makes the words larger without losing the place, and puts another verse under the notes', async () => {
    await page.keyboard.press('ArrowRight');
    const sung = () =>
      shown()
        .locator('section:not(.away) .syl')
        .allTextContents()
        .then((all) => all.map((each) => each.trim()).join(' '));
    const before = (await sung()).split(' ').slice(0, 2).join(' ');
    expect(before).toMatch(/\w/);
    await page.getByTestId('where').tap();
    await page.getByRole('button', { name: 'larger' }).tap();
    expect(await page.getByTestId('text-size').innerText()).toBe('120 %');
    await expect.poll(() => page.locator('.leaf.busy').count(), SOON).toBe(0);
    expect(await sung()).toContain(before);
    await page.getByRole('button', { name: '2', exact: true }).tap();
    // The second stanza of Newton's hymn begins so.
    await expect.poll(() => page.locator('.sheet').first().textContent(), SOON).toMatch(/Twas/);
    await page.keyboard.press('Escape');
    await page.keyboard.press('Home');
    expect(await where()).toMatch(/^1 of 3 .*page 1 of/);
  });

  it('sees nothing but the sheet and one line, open to everyone in both lights (axe, WCAG 2.2 AA)', async () => {
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      // A page that is being turned or engraved anew is paler for a moment.
      await expect.poll(() => page.locator('.leaf.busy').count(), SOON).toBe(0);
      await expect.poll(() => page.evaluate(() => document.getAnimations().length), SOON).toBe(0);
      expect(await axeFindings(page), colorScheme).toEqual([]);
    }
    expect(await page.getByRole('navigation').count()).toBe(0);
    for (const button of await page.locator('footer button').all()) {
      const box = await button.boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(64);
    }
  });

  it('took nothing amiss on the way: the console stayed silent', () => {
    expect(watched.complaints).toEqual([]);
  });
});
