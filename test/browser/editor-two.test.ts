import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { inBook, press as pressKeys, saved, songs } from './support/editor.ts';
import { axeFindings, openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

/** The browser itself writes refusals and lost connections to its console; these tests provoke them. */
const PROVOKED = [/status of 412/, /status of 401/, /ERR_INTERNET_DISCONNECTED/, /ERR_FAILED/];
/** Saving waits for a pause in writing. */
const SOON = { timeout: 20_000 };
/** Two pages with an engraver each, on a machine that has other things to do. */
const LONG = 150_000;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const api = (path: string, init: RequestInit = {}): Promise<Response> =>
  fetch(`${app.address}/api${path}`, {
    ...init,
    headers: { 'content-type': 'application/json', ...init.headers },
  });

const songsNamed = async (title: string): Promise<Song[]> =>
  (await songs(app)).filter(({ score }) => score.facts.title === title);

const songNamed = (title: string): Promise<Song> => inBook(app, title);

const tuneOf = ({ score }: Song): string =>
  score.voices[0]?.notes.flatMap(({ pitches }) => pitches).join(' ') ?? '';

async function press(page: Page, keys: string): Promise<void> {
  await page.locator('#written-music').focus();
  await pressKeys(page, keys);
}

async function drawn(page: Page): Promise<void> {
  await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
}

/** An empty page with a title. */
async function titled(title: string): Promise<WatchedPage> {
  const watched = await openPage(browser, { viewport: TABLET }, PROVOKED);
  await watched.page.goto(`${app.address}/songs/write`);
  await drawn(watched.page);
  await watched.page.getByLabel('Title').fill(title);
  return watched;
}

/** A song of four notes in its first bar that is on the server, open on its page. */
async function written(title: string): Promise<WatchedPage & { readonly song: Song }> {
  const watched = await titled(title);
  await press(watched.page, '3 c d e f');
  await saved(watched.page);
  return { ...watched, song: await songNamed(title) };
}

/** A page of the same browser on the song, and what is pressed there. */
async function other(context: BrowserContext, song: Song, keys: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`${app.address}/songs/${song.id}/edit`);
  await drawn(page);
  await press(page, keys);
  return page;
}

describe('Two who write at one song', () => {
  it(
    'see both laid together where they wrote in other bars, take it, and undo has the rest',
    async () => {
      const { page, context, song, complaints } = await written('Together');
      const second = await other(context, song, 'Home a');
      await saved(second);
      await second.close();
      await press(page, 'End Control+ArrowLeft g');
      await page.getByRole('heading', { name: /Someone else saved/ }).waitFor();
      await page.getByText(/They differ in bars 1 and 4,/).waitFor();
      const both = page.getByRole('region', { name: 'Both together' });
      await both.locator('.system').first().waitFor({ state: 'attached', timeout: 60_000 });
      expect(await both.locator('.differs').count()).toBeGreaterThan(1);
      expect(await axeFindings(page)).toEqual([]);
      await page.getByRole('button', { name: 'Lay both together' }).click();
      await saved(page);
      const before = tuneOf(song);
      const laid = await songNamed('Together');
      expect(tuneOf(laid)).toMatch(/^A. D4 E4 F4 G4$/);
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(async () => tuneOf(await songNamed('Together')), SOON).toMatch(/^A. D4 E4 F4$/); // prettier-ignore
      expect(before).toBe('C4 D4 E4 F4');
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

describe('A song of which something but the music was changed on another page', () => {
  it('is saved on, and nobody is asked', async () => {
    const { page, context, song, complaints } = await written('Noted');
    const put = await api(`/songs/${song.id}/details`, {
      method: 'PUT',
      headers: { 'if-match': `"v${song.version}"` },
      body: JSON.stringify({ details: song.details, privateNote: 'Slower than you think.' }),
    });
    expect(put.status).toBe(200);
    await press(page, 'g');
    await expect.poll(async () => tuneOf(await songNamed('Noted')), SOON).toBe('C4 D4 E4 F4 G4');
    await saved(page);
    expect(await page.getByRole('heading', { name: /Someone else saved/ }).count()).toBe(0);
    expect((await songNamed('Noted')).privateNote).toBe('Slower than you think.');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('A song that is written while the server is away', () => {
  it('says so, takes what is written, and is saved by itself once it answers', async () => {
    const { page, context, complaints } = await written('Away');
    await page.route('**/api/**', (route) => route.abort('failed'));
    await press(page, 'g');
    await page
      .getByText('The server does not answer: kept on this device, not saved yet.')
      .waitFor();
    await press(page, 'a');
    await page.unroute('**/api/**');
    await saved(page);
    await expect.poll(async () => tuneOf(await songNamed('Away')), SOON).toBe('C4 D4 E4 F4 G4 A4');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('A new song whose answer is lost', () => {
  it('is one song, when its tab dies before it has heard and it is taken up again', async () => {
    const { page, context } = await titled('Only Once');
    let sent = 0;
    // The server has it; the page never hears of it.
    await page.route('**/api/songs', async (route) => {
      sent += 1;
      await route.fetch();
      await route.abort('internetdisconnected');
    });
    await press(page, '3 c e');
    await page.getByText(/not saved yet/).waitFor();
    expect(await songsNamed('Only Once')).toHaveLength(1);
    await press(page, 'g');
    const session = await context.newCDPSession(page);
    const crashed = page.waitForEvent('crash');
    void session.send('Page.crash').catch(() => undefined);
    await crashed;
    const again = await context.newPage();
    await again.goto(`${app.address}/songs/write`);
    await drawn(again);
    await saved(again);
    expect(sent).toBeGreaterThan(0);
    const songs = await songsNamed('Only Once');
    expect(songs.map(tuneOf)).toEqual(['C4 E4 G4']);
    expect(again.url()).toContain(`/songs/${songs[0]?.id}/edit`);
    await context.close();
  });
});

const PASSPHRASE = 'the hill is green in spring';

/** Titles of what this browser keeps. */
const kept = (page: Page): Promise<string[]> =>
  page.evaluate(
    () =>
      new Promise<string[]>((done, fail) => {
        const opening = indexedDB.open('partbook-edits');
        opening.onerror = () => fail(new Error('no database'));
        opening.onsuccess = () => {
          const asked = opening.result.transaction('drafts').objectStore('drafts').getAll();
          asked.onsuccess = () =>
            done(
              (asked.result as { score: { facts: { title: string } } }[])
                .map(({ score }) => score.facts.title)
                .sort(),
            );
        };
      }),
  );

// The last: from here on the leader's side asks for a passphrase.
describe('Drafts on a device that others use too', () => {
  it(
    'go with whoever signs out where they are saved; what is not is told of, and opened or thrown away',
    async () => {
      const first = await written('Left Saved');
      const { context } = first;
      await first.page.close();
      const page = await context.newPage();
      await page.goto(`${app.address}/songs/write`);
      await drawn(page);
      await page.route('**/api/songs', (route) => route.abort('internetdisconnected'));
      await page.getByLabel('Title').fill('Left Unsaved');
      await press(page, '3 c d');
      await page.getByText(/not saved yet/).waitFor();
      await page.close();

      const leader = await context.newPage();
      await leader.goto(`${app.address}/team`);
      await leader.getByLabel('passphrase', { exact: true }).fill(PASSPHRASE);
      await leader.getByRole('button', { name: 'Set a passphrase' }).click();
      await leader.getByText('Whoever knows the passphrase').waitFor();
      expect(await kept(leader)).toEqual(['Left Saved', 'Left Unsaved']);
      await leader.getByRole('button', { name: 'sign out on this device' }).click();
      await leader.getByRole('button', { name: 'Open', exact: true }).waitFor();
      expect(await kept(leader)).toEqual(['Left Unsaved']);

      await leader.goto(`${app.address}/songs`);
      await leader.getByLabel('passphrase').fill(PASSPHRASE);
      await leader.keyboard.press('Enter');
      const line = leader.getByText(/An unsaved draft of a new song, “Left Unsaved”, from /);
      await line.waitFor();
      expect(await axeFindings(leader)).toEqual([]);
      await leader
        .getByRole('button', { name: 'Throw it away: the draft of Left Unsaved' })
        .click();
      await line.waitFor({ state: 'detached' });
      expect(await kept(leader)).toEqual([]);
      await leader.getByRole('button', { name: 'Undo' }).click();
      await line.waitFor();
      await leader.getByRole('link', { name: 'Open it: the draft of Left Unsaved' }).click();
      await drawn(leader);
      await saved(leader);
      expect(leader.url()).toMatch(/\/songs\/[^/]+\/edit$/);
      await leader.getByRole('link', { name: 'The song' }).click();
      await leader.getByRole('heading', { name: 'Left Unsaved' }).first().waitFor();
      await leader.goto(`${app.address}/songs`);
      await leader
        .getByRole('link', { name: /Left Unsaved/ })
        .first()
        .waitFor();
      expect(await line.count()).toBe(0);
      await context.close();
    },
    LONG,
  );
});
