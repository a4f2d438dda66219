import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { made } from './support/editor.ts';
import { axeFindings, hymn, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let song: string;

const TEAM = [
  { name: 'Ada', roles: ['lead voice'], comfortable: { low: 'G3', high: 'D5' } },
  { name: 'Ruth', roles: ['keys'], level: 'beginner', instruments: { transposeButton: true } },
  { name: 'Joel', roles: ['guitar'], instruments: { capo: 5 } },
  { name: 'Dora', roles: ['bass'] },
];

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const text = hymn('Alleluia_Sing_To_Jesus-Hyfrydol').toString('latin1');
  song = (await made(app, { format: 'abc', text })).id;
  const headers = { 'content-type': 'application/json' };
  for (const member of TEAM)
    await fetch(`${app.address}/api/members`, {
      method: 'POST',
      headers,
      body: JSON.stringify(member),
    });
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const storedKey = async () => {
  const answer = await fetch(`${app.address}/api/songs/${song}/arrangement`);
  return ((await answer.json()) as { key: { tonic: string } }).key.tonic;
};
const keys = (page: Page) => page.getByRole('radiogroup', { name: 'Keys that stay' });
const here = (page: Page) =>
  keys(page).locator('[aria-checked=true]').getAttribute('aria-label', { timeout: 5000 });

/** With Ada's voice, and everybody weighed. */
async function openSong(page: Page): Promise<void> {
  await page.goto(`${app.address}/songs/${song}`);
  const ada = page.getByRole('checkbox', { name: 'Ada' });
  if (!(await ada.isChecked())) await ada.check();
  const folded = 'For whoever plays at the keys; Joel on the guitar and Dora on the bass count too';
  await page.getByText(folded).click();
  await page.getByRole('checkbox', { name: 'Ruth at the keys' }).check();
  await page.getByText('Joel on the guitar: capo').first().waitFor();
  await page.getByText(/^Trying every key/).waitFor({ state: 'detached' });
}

describe('The leader', () => {
  it('walks along the keys that stay by keyboard, hears what each step trades, and takes one', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await openSong(page);
    const figure = page.getByRole('figure').filter({ has: keys(page) });
    await keys(page).locator('[tabindex="0"]').focus();
    await page.keyboard.press('Home');
    const walked = [await here(page)];
    for (let i = 0; i < 12; i += 1) {
      await page.keyboard.press('ArrowRight');
      const now = await here(page);
      if (now === walked.at(-1)) break;
      walked.push(now);
      const [from, to] = walked.slice(-2).map((name) => name?.split(' ')[0]);
      await figure.getByText(new RegExp(`^From ${from} to ${to}, (up|down) .*Gained: .*Lost: `)).waitFor(); // prettier-ignore
    }
    expect(walked.length).toBeGreaterThan(1);
    expect(walked.filter((name) => name?.includes('nowhere worse'))).toEqual([]);
    await figure.getByText('No key that stays on the front lies beyond').waitFor();
    expect(await storedKey()).toBe('F');
    // Looked at is not taken: that is a button of its own, and can be undone.
    await page.keyboard.press('ArrowLeft');
    const looked = (await here(page)) ?? '';
    await figure.getByRole('button', { name: `Take ${looked}` }).click();
    await expect.poll(storedKey).toBe(looked.split(' ')[0]?.replace('♭', 'b').replace('♯', '#'));
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(storedKey).toBe('F');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('reads the same in a table, and says whose hands count', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await openSong(page);
    const figure = page.getByRole('figure').filter({ has: keys(page) });
    await figure.getByText('The same as a table').click();
    const names = () => figure.getByRole('columnheader').allInnerTexts();
    expect((await names()).join()).toMatch(/Ada.*Ruth at the keys: hard moves.*Joel on the guitar: barre changes.*Dora on the bass: time on open strings/i); // prettier-ignore
    const rows = await figure.getByRole('rowheader').count();
    expect(rows).toBe(await keys(page).getByRole('radio').count());
    await page.getByRole('checkbox', { name: 'Dora on the bass' }).uncheck();
    await expect.poll(async () => (await names()).join(), { timeout: 20_000 }).not.toMatch(/Dora/);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('checkbox', { name: 'by the transpose button' }).check();
    await page.getByText(/Ruth at the keys: play in [A-G].*keyboard set to [+−]\d: it sounds in/).first().waitFor(); // prettier-ignore
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('unfolds by keyboard why a key stays: what it costs each, and which key is as good or better', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await openSong(page);
    const stays = page
      .getByRole('listitem')
      .filter({ has: page.getByText('why', { exact: true }) })
      .filter({ hasText: 'is as good or better' });
    const why = stays.first().locator('summary');
    expect((await why.boundingBox())?.height).toBeGreaterThanOrEqual(44);
    expect(await stays.first().getByText(/Joel on the guitar: /).first().isVisible()).toBe(false); // prettier-ignore
    await why.focus();
    await page.keyboard.press('Enter');
    await stays.first().getByText(/Joel on the guitar: /).first().waitFor(); // prettier-ignore
    await stays
      .first()
      .getByText(/^In all but what is finer, .+ is as good or better:$/)
      .waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('finds it on a phone within the screen', async () => {
    const options = { viewport: PHONE, hasTouch: true, colorScheme: 'dark' as const };
    const { page, context, complaints } = await openPage(browser, options);
    await openSong(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    const other = keys(page).locator('[aria-checked=false]').first();
    expect((await other.boundingBox())?.height).toBeGreaterThanOrEqual(44);
    const name = await other.getAttribute('aria-label');
    await other.tap();
    expect(await here(page)).toBe(name);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
