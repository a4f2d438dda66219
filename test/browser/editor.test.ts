import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import {
  inBook,
  made,
  press,
  saved,
  SOON,
  songs,
  tuneOf,
  type SongText,
} from './support/editor.ts';
import { axeFindings, hymn, openPage, PHONE, TABLET, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

/** The browser itself writes refusals and lost connections to its console; some of these tests provoke them. */
const PROVOKED = [/status of 412/, /ERR_INTERNET_DISCONNECTED/];

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const songNamed = (title: string): Promise<Song> => inBook(app, title);
const makeSong = (song: SongText): Promise<Song> => made(app, song);

const drawn = (page: Page): Promise<number> => page.locator('.place').count();

/** Two pages with an engraver each, on a machine that has other things to do. */
const LONG = 150_000;

/** An empty page with the music in hand. */
async function emptyPage(expected: readonly RegExp[] = []): Promise<WatchedPage> {
  const watched = await openPage(browser, { viewport: TABLET }, expected);
  await watched.page.goto(`${app.address}/songs/write`);
  await watched.page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
  return watched;
}

/** A new song that is on the server, open on its page. */
async function writtenSong(title: string, expected: readonly RegExp[] = []): Promise<WatchedPage> {
  const watched = await emptyPage(expected);
  await watched.page.getByLabel('Title').fill(title);
  await watched.page.locator('#written-music').focus();
  await press(watched.page, '3 c d e f');
  await saved(watched.page);
  return watched;
}

/**
 * The beginning of “Old Hundredth” (Geneva 1551), as hymnals print it in G: G G F♯ E D G A B | B B B A G C B A G in
 * long notes; here its first two lines shortened to four bars of 4/4, by keys alone.
 */
describe('A song that is written from an empty page by keyboard alone', () => {
  it('has its notes, words, chords and title on the server, and nothing else was touched', async () => {
    const { page, context, complaints } = await emptyPage();
    // The music is in hand from the start; the key is chosen among the bars.
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('written-music');
    await press(page, 'm');
    const key = page.getByRole('combobox', { name: 'key' });
    await key.focus();
    await key.selectOption({ label: 'G major' });
    await press(page, 'Escape');
    await press(page, 'Home 3 g g f e d g a b');
    await press(page, 'b b b a g Shift+ArrowDown');
    // One too low is mended by one key, and the last bar is a longer note.
    await press(page, 'Shift+ArrowUp');
    await press(page, '1 b');
    await press(page, 'Home h');
    await page.keyboard.type('G');
    await press(page, 'Tab');
    await press(page, 'Escape');
    await press(page, 'w');
    await page.keyboard.type('All peo-ple that on earth do dwell, sing to the Lord with');
    await press(page, 'Escape Shift+Tab');
    await page.getByLabel('Title').focus();
    await page.keyboard.type('Old Hundredth');
    await saved(page);
    await expect.poll(async () => (await songs(app)).map((song) => song.score.facts.title), SOON).toContain('Old Hundredth'); // prettier-ignore
    const song = await songNamed('Old Hundredth');
    expect(song.score.keys[0]).toMatchObject({ key: { tonic: 'G', mode: 'major' }, signature: 1 });
    expect(tuneOf(song).slice(0, 8)).toEqual(['G4', 'G4', 'F#4', 'E4', 'D4', 'G4', 'A4', 'B4'].map((note) => `${note} 1`)); // prettier-ignore
    expect(tuneOf(song).slice(8, 13)).toEqual(['B4', 'B4', 'B4', 'A4', 'G4'].map((note) => `${note} 1`)); // prettier-ignore
    const words = song.score.voices[0]?.notes.flatMap(
      ({ syllables }) => syllables?.[0]?.text ?? [],
    );
    expect(words?.slice(0, 4)).toEqual(['All', 'peo', 'ple', 'that']);
    expect(song.score.chords[0]).toMatchObject({ at: 0, chord: { root: 'G' } });
    expect(page.url()).toContain(`/songs/${song.id}/edit`);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is undone and done again, step by step, and says what', async () => {
    const { page, context, complaints } = await writtenSong('Undone');
    const before = await drawn(page);
    await press(page, 'Control+z');
    await page.getByText(/^Taken back: .*F4/).waitFor();
    await press(page, 'Control+z Control+Shift+z Control+Shift+z');
    await page.getByText(/^Done again: .*F4/).waitFor();
    // Also with the hand on a button below the music.
    await page.getByRole('button', { name: 'Chords', exact: true }).click();
    await press(page, 'Control+z');
    await page.getByText(/^Taken back: .*F4/).waitFor();
    await press(page, 'Control+y');
    await expect.poll(() => drawn(page), SOON).toBe(before);
    await saved(page);
    expect(tuneOf(await songNamed('Undone'))).toEqual(['C4 1', 'D4 1', 'E4 1', 'F4 1']);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('What is not saved yet', () => {
  it('is there again after a reload in the middle, with its undo', async () => {
    const { page, context, complaints } = await writtenSong('Reloaded');
    await press(page, '2 g');
    await page.waitForTimeout(150);
    await page.reload();
    await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
    await saved(page);
    expect(tuneOf(await songNamed('Reloaded'))).toContain('G4 2');
    await page.locator('#written-music').focus();
    await press(page, 'Control+z');
    await page.getByText(/^Taken back: .*G4/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is there again after the tab was killed, also of a song that the server never saw', async () => {
    const { page, context } = await emptyPage();
    await page.route('**/api/songs', (route) => route.abort('internetdisconnected'));
    await page.getByLabel('Title').fill('Killed');
    await page.locator('#written-music').focus();
    await page.getByText(/not saved yet/).waitFor();
    const session = await context.newCDPSession(page);
    // The tab dies with the last key: what was written is with the browser by then.
    await press(page, '3 c e g f e');
    const crashed = page.waitForEvent('crash');
    void session.send('Page.crash').catch(() => undefined);
    await crashed;
    const again = await context.newPage();
    await again.goto(`${app.address}/songs/write`);
    await again.getByText(/^Taken up where you left it/).waitFor({ timeout: 30_000 });
    await saved(again);
    expect(tuneOf(await songNamed('Killed'))).toEqual(['C4 1', 'E4 1', 'G4 1', 'F4 1', 'E4 1']);
    await again.getByText('Taken up where you left it.', { exact: true }).waitFor();
    await context.close();
  });

  it('is kept without a network, which is said, and saved when it is back', async () => {
    const { page, context, complaints } = await writtenSong('Offline', PROVOKED);
    await context.setOffline(true);
    await press(page, 'g');
    await page.getByText('No network: kept on this device, not saved yet.').waitFor();
    await press(page, 'a');
    expect(tuneOf(await songNamed('Offline'))).toHaveLength(4);
    await context.setOffline(false);
    await saved(page);
    expect(tuneOf(await songNamed('Offline')).slice(4)).toEqual(['G4 1', 'A4 1']);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('Two who write at one song', () => {
  async function both(title: string): Promise<{ first: WatchedPage; second: Page }> {
    const first = await writtenSong(title, PROVOKED);
    const { id } = await songNamed(title);
    const second = await first.context.newPage();
    await second.goto(`${app.address}/songs/${id}/edit`);
    await second.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
    await second.locator('#written-music').focus();
    await press(second, 'Home a');
    await saved(second);
    await first.page.locator('#written-music').focus();
    await press(first.page, 'End Control+ArrowLeft g');
    await first.page.getByRole('heading', { name: /Someone else saved/ }).waitFor();
    return { first, second };
  }

  it(
    'are told: the second sees both with the bars that differ, and takes the saved one; undo has the own one',
    async () => {
      const { first, second } = await both('Taken');
      const { page, context } = first;
      await page.getByText(/They differ in bars 1 and 4,/).waitFor();
      await page.locator('.halves .system').nth(1).waitFor({ state: 'attached', timeout: 30_000 });
      expect(await page.locator('.halves .differs').count()).toBeGreaterThan(1);
      expect(await axeFindings(page)).toEqual([]);
      expect(tuneOf(await songNamed('Taken'))[0]).toMatch(/^A/);
      await page.getByRole('button', { name: 'Take the saved one' }).click();
      await saved(page);
      expect(tuneOf(await songNamed('Taken'))[0]).toMatch(/^A/);
      await page.getByRole('button', { name: 'Undo' }).click();
      await saved(page);
      await expect.poll(async () => tuneOf(await songNamed('Taken'))[0], SOON).toBe('C4 1');
      expect(tuneOf(await songNamed('Taken'))).toContain('G4 1');
      await second.close();
      await context.close();
    },
    LONG,
  );

  it(
    'keep their own, and nothing is written over unseen: the other one is one undo away',
    async () => {
      const { first } = await both('Kept');
      const { page, context, complaints } = first;
      await page.getByRole('button', { name: 'Keep mine' }).click();
      await saved(page);
      await expect.poll(async () => tuneOf(await songNamed('Kept'))[0], SOON).toBe('C4 1');
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(async () => tuneOf(await songNamed('Kept'))[0], SOON).toMatch(/^A/);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

/** One keyboard, as Web MIDI shows it: a map of ports that tell what is played (W3C Web MIDI API, 5 and 7). */
const FAKE_MIDI = `
  const port = Object.assign(new EventTarget(), { id: '1', name: 'A stage piano', type: 'input' });
  const access = Object.assign(new EventTarget(), { inputs: new Map([['1', port]]), outputs: new Map() });
  navigator.requestMIDIAccess = () => Promise.resolve(access);
  window.strike = (midi, velocity) => {
    const event = new Event('midimessage');
    event.data = new Uint8Array([velocity > 0 ? 0x90 : 0x80, midi, velocity]);
    port.dispatchEvent(event);
  };`;

const strike = (page: Page, midi: number, velocity: number) =>
  page.evaluate(`window.strike(${midi}, ${velocity})`);

describe('A MIDI keyboard', () => {
  it('writes in step, and along a click what it heard is shown with how far it was moved, and written on yes', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript(FAKE_MIDI);
    await page.goto(`${app.address}/songs/write`);
    await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
    await page.getByLabel('Title').fill('Played');
    await page.getByRole('button', { name: 'MIDI keyboard' }).click();
    await page.getByText('A stage piano').waitFor();
    await strike(page, 67, 80);
    await strike(page, 67, 0);
    await saved(page);
    expect(tuneOf(await songNamed('Played'))).toEqual(['G4 1']);

    // Two notes along a click of 120, the second with the first beat after the count-in's end, roughly.
    await page.getByLabel('Clicks a minute').fill('120');
    await page.getByRole('button', { name: 'play along' }).click();
    await page.getByText('playing, beat 1').waitFor();
    await strike(page, 69, 80);
    await page.waitForTimeout(450);
    await strike(page, 69, 0);
    await strike(page, 71, 80);
    await page.waitForTimeout(450);
    await strike(page, 71, 0);
    await page.getByRole('button', { name: 'Stop' }).click();
    await page
      .getByText(/moved \d+ ms/)
      .first()
      .waitFor();
    await expect.poll(() => page.locator('.proposed').count(), SOON).toBeGreaterThan(1);
    expect(tuneOf(await songNamed('Played'))).toEqual(['G4 1']);
    await page.getByRole('button', { name: 'Write it so' }).click();
    await saved(page);
    const played = tuneOf(await songNamed('Played'));
    expect(played.some((note) => note.startsWith('A4'))).toBe(true);
    expect(played.some((note) => note.startsWith('B4'))).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

const TEXT = 'The Evening Lamp\n\nVerse 1\nG        C     G\nA lamp in the window\n';

describe('A song of words and chords', () => {
  it('is corrected as the text that it is, is told how high it lies, and gets bars when one wants', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const made = await makeSong({ format: 'words', text: TEXT });
    await page.goto(`${app.address}/songs/${made.id}/edit`);
    const text = page.getByRole('textbox', { name: 'The song as text' });
    await text.fill((await text.inputValue()).replace('window', 'hallway'));
    await page.getByLabel('lowest note').fill('a3');
    await page.getByLabel('highest note').fill('D5');
    await page.getByLabel('highest note').press('Tab');
    await saved(page);
    await expect.poll(async () => (await songNamed('The Evening Lamp')).score.compass, SOON).toEqual({ low: 'A3', high: 'D5', mostly: null }); // prettier-ignore
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Give it bars' }).click();
    await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
    await page.locator('#written-music').focus();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await text.inputValue()).toContain('hallway');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

/** Buttons of the notes that are cut off at an edge of the screen, or smaller than 44 px (WCAG 2.2, 2.5.5). */
const outOfReach = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.foot .panel .rows button')].flatMap((button) => {
      const { left, right, width, height } = button.getBoundingClientRect();
      const isWhole = left >= 0 && right <= innerWidth && width >= 44 && height >= 44;
      return isWhole
        ? []
        : [`${button.textContent.trim()}: ${left}–${right}, ${width} × ${height}`];
    }),
  );

describe('The page on which a song is written', () => {
  let id = '';

  beforeAll(async () => {
    const text = hymn('Amazing_Grace-New_Britain').toString('latin1');
    id = (await makeSong({ format: 'abc', text })).id;
  });

  it.each([
    ['light', TABLET],
    ['dark', TABLET],
    ['light', PHONE],
    ['dark', PHONE],
  ] as const)(
    'meets WCAG 2.2 AA in every panel, in the %s, at %o',
    async (colorScheme, viewport) => {
      const { page, context } = await openPage(browser, { viewport, colorScheme });
      await page.goto(`${app.address}/songs/${id}/edit`);
      await page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
      for (const panel of ['Notes', 'Words', 'Chords', 'Sections', 'Bars', 'Passes']) {
        await page.getByRole('button', { name: panel, exact: true }).click();
        expect(await axeFindings(page), panel).toEqual([]);
      }
      await page.locator('#written-music').focus();
      await press(page, 'h');
      await page.getByLabel('Chord symbol').waitFor();
      expect(await axeFindings(page), 'a chord').toEqual([]);
      await press(page, 'Escape ?');
      await page.getByRole('dialog').waitFor();
      expect(await axeFindings(page), 'the keys').toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide).toBeLessThanOrEqual(viewport.width);
      await press(page, 'Escape');
      await page.getByRole('button', { name: 'Notes', exact: true }).click();
      expect(await outOfReach(page), 'buttons for notes').toEqual([]);
      await context.close();
    },
  );
});
