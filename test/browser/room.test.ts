import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Team } from '#server/contract/team.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { made } from './support/editor.ts';
import { axeFindings, hymn, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let song: string;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const text = hymn('Amazing_Grace-New_Britain').toString('latin1');
  song = (await made(app, { format: 'abc', text })).id;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const get = async (path: string): Promise<unknown> =>
  (await fetch(`${app.address}/api${path}`)).json();
const team = async () => (await get('/team')) as Team;
const storedKey = async () =>
  ((await get(`/songs/${song}/arrangement`)) as { key: { tonic: string } }).key.tonic;

/** Goes along with Tab until the thing that has the focus is called so. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let i = 0; i < 120; i += 1) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => {
      const element = document.activeElement;
      return `${element?.getAttribute('aria-label') ?? ''} ${element?.closest('label')?.textContent ?? ''} ${element?.textContent ?? ''}`;
    });
    if (name.test(focused)) return;
  }
  throw new Error(`Tab never came to ${String(name)}`);
}

const openRoom = (page: Page) =>
  page.getByRole('button', { name: 'Who is still singing?' }).click();
/** Heights of the bars under the notes. */
const bars = (page: Page) =>
  page.locator('.tune .bar').evaluateAll((all) => all.map((bar) => bar.getAttribute('height')));

describe('The leader', () => {
  it('chooses whose words the congregation’s range is, sets one of their own, and takes it back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/team`);
    await page.getByRole('radio', { name: /rule of thumb for all voices/ }).check();
    await expect.poll(async () => (await team()).congregation).toBe('one-octave');
    await page.getByText('The congregation sings C4 to C5 now, a rule of thumb.').waitFor();
    await page.getByRole('radio', { name: /A range of our own/ }).check();
    await page.getByText('highest that sits easily').click();
    await page.getByRole('button', { name: /^D 5/ }).click();
    const own = { low: 'C4', high: 'D5' };
    await expect.poll(async () => (await team()).congregation).toEqual(own);
    await page.goto(`${app.address}/songs/${song}`);
    await page.getByRole('link', { name: 'C4–D5, as you set it' }).waitFor();
    await page.goto(`${app.address}/team`);
    await page.getByRole('radio', { name: /committee of the United Reformed/ }).check();
    await expect.poll(async () => (await team()).congregation).toBe('psalter-committee');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await team()).congregation).toEqual(own);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('sees who is still singing, sets the room to theirs, and the picture changes', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/${song}`);
    await page.getByRole('button', { name: 'Who is still singing?' }).waitFor();
    expect(await page.locator('.tune').count()).toBe(0);
    await openRoom(page);
    await page.getByText(/^In G major \d+.% of the room is expected/).waitFor();
    await page.getByText(/^Fewest are left in bar 7: \d+.% on the D5 of five beats\.$/).waitFor();
    await page.getByText('nobody in this room was measured').waitFor();
    const before = await bars(page);
    // One verse of 8.6.8.6, the hymn meter that the hymnals print over it: 28 syllables, each under its first note.
    expect(await page.locator('.tune .word').count()).toBe(28);
    await page.getByRole('link', { name: 'set it to your room' }).click();
    await page.getByText('These numbers are invented').waitFor();
    const fields: readonly [string, string][] = [
      ['women', '4'],
      ['men', '3'],
      ['women over 65', '20'],
      ['men over 65', '12'],
      ['children', '0'],
    ];
    for (const [group, people] of fields) {
      const field = page.getByRole('spinbutton', { name: group, exact: true });
      await field.fill(people);
      await field.press('Enter');
    }
    await page.getByText('39 in all.').waitFor();
    const room = { women: 4, men: 3, 'women over 65': 20, 'men over 65': 12, children: 0 };
    await expect.poll(async () => (await team()).room).toEqual(room);
    expect(await page.getByText('These numbers are invented').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
    await page.goBack();
    await openRoom(page);
    await page.getByText(/^Fewest are left/).waitFor();
    const after = await bars(page);
    expect(after).not.toEqual(before);
    expect(await page.getByText('The room is invented').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is told that half a person is none, and keeps the number that was there', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/team`);
    const field = page.getByRole('spinbutton', { name: 'women', exact: true });
    const before = await field.inputValue();
    await field.fill('-3');
    await field.press('Enter');
    await expect.poll(() => field.inputValue()).toBe(before);
    await page.getByText('whole number of people').waitFor();
    await context.close();
  });

  it('compares the keys, takes one by pressing its row, and takes it back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    await page.goto(`${app.address}/songs/${song}`);
    await openRoom(page);
    const keys = page.getByRole('radiogroup', { name: 'How much of the room sings each key' });
    const rows = await keys
      .getByRole('radio')
      .evaluateAll((all) => all.map((row) => row.getAttribute('aria-label') ?? ''));
    expect(rows).toHaveLength(12);
    expect(rows.filter((row) => row.includes('written'))).toEqual([
      expect.stringMatching(/^G major, \d+.% of the room, written/),
    ]);
    await keys.getByRole('radio', { name: /^E major, / }).click();
    await page.getByText(/^In E major \d+.% of the room is expected/).waitFor();
    await expect.poll(storedKey).toBe('E');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText(/^In G major \d+.% of the room is expected/).waitFor();
    await expect.poll(storedKey).toBe('G');
    // The table has the same figures.
    const panel = page.getByRole('region', { name: 'Who is still singing?' });
    await panel.getByText('The same as a table').nth(1).click();
    const inTable = panel.getByRole('row', { name: /^E major/ });
    const [first] = await inTable.getByRole('cell').allInnerTexts();
    expect(first).toMatch(/^\d+.%$/);
    expect(rows.find((row) => row.startsWith('E major'))).toContain(first);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('does all of it by keyboard: opens, goes along the notes, chooses a key', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript(() => {
      addEventListener('pointerdown', () => console.error('a pointer was used'), true);
    });
    await page.goto(`${app.address}/songs/${song}`);
    await page.getByRole('button', { name: 'Who is still singing?' }).waitFor();
    await tabTo(page, /Who is still singing\?/);
    await page.keyboard.press('Enter');
    await tabTo(page, /who sings each note/);
    const value = () =>
      page.getByRole('slider', { name: /who sings each note/ }).getAttribute('aria-valuetext');
    expect(await value()).toMatch(/^the pickup, D4, one beat: \d+.% of the room, on “A-”$/);
    await page.keyboard.press('ArrowRight');
    expect(await value()).toMatch(/^bar 1, G4, two beats: \d+.% of the room, on “maz-”$/);
    await page.keyboard.press('End');
    expect(await value()).toMatch(/^bar 15, G4/);
    await tabTo(page, /^G major, .*of the room/);
    await page.keyboard.press('ArrowDown');
    await page.getByText(/^In F♯ major \d+.% of the room is expected/).waitFor();
    await expect.poll(storedKey).toBe('F#');
    await page.keyboard.press('ArrowUp');
    await expect.poll(storedKey).toBe('G');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('finds all of it on a phone, in reach of a finger and within the screen', async () => {
    const options = { viewport: PHONE, hasTouch: true, colorScheme: 'dark' as const };
    const { page, context, complaints } = await openPage(browser, options);
    await page.goto(`${app.address}/songs/${song}`);
    await page.getByRole('button', { name: 'Who is still singing?' }).tap();
    await page.getByText(/^Fewest are left/).waitFor();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    const row = page.getByRole('radio', { name: /^F major, .*of the room/ });
    expect((await row.boundingBox())?.height).toBeGreaterThanOrEqual(44);
    await row.tap();
    await page.getByText(/^In F major \d+.% of the room is expected/).waitFor();
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText(/^In G major \d+.% of the room is expected/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.goto(`${app.address}/team`);
    await page.getByRole('heading', { name: 'who is in the room' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      PHONE.width,
    );
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('prints both pictures with the heading and what they take for granted', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/${song}`);
    await openRoom(page);
    await page.getByText(/^Fewest are left/).waitFor();
    await page.emulateMedia({ media: 'print' });
    const seen = (words: string) => page.getByText(words).last().isVisible();
    expect(await seen('Who is still singing?')).toBe(true);
    expect(await seen('nobody in this room was measured')).toBe(true);
    expect(await page.locator('.tune svg').first().isVisible()).toBe(true);
    expect(await page.locator('.keys > svg').isVisible()).toBe(true);
    expect(await page.locator('.keys > button').first().isVisible()).toBe(false);
    await context.close();
  });
});

describe('A song without a tune', () => {
  it('says what is missing, and where to write it', async () => {
    const text = 'The Evening Lamp\n\nVerse 1\nG        C    G\nA lamp in the window\n';
    const { id } = await made(app, { format: 'words', text });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/${id}`);
    await openRoom(page);
    await page.getByText('No tune is written for this song').waitFor();
    expect(await page.getByRole('link', { name: 'Write its melody' }).getAttribute('href')).toBe(
      `/songs/${id}/edit`,
    );
    expect(complaints).toEqual([]);
    await context.close();
  });
});
