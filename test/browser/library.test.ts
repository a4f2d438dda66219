import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MusicXml } from '#music';
import type { SongList } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp('demo'), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const titles = (page: Page): Promise<string[]> =>
  page.getByRole('list', { name: 'Songs' }).locator('.title').allTextContents();

const openBook = (page: Page) => page.goto(`${app.address}/songs`);

async function songOf(title: string): Promise<string> {
  const { songs } = (await (await fetch(`${app.address}/api/songs`)).json()) as SongList;
  const found = songs.find((song) => song.title === title);
  if (!found) throw new Error(`no ${title}`);
  return found.id;
}

/** A hymn that the demo has not, and of which nothing is known beside its music. */
async function bring(name: string): Promise<string> {
  const answer = await fetch(`${app.address}/api/songs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ format: 'abc', bytes: hymn(name).toString('base64') }),
  });
  return ((await answer.json()) as { id: string }).id;
}

describe('The book of songs', () => {
  it('is searched as one types, with a typo, and walked by keys alone', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await openBook(page);
    const field = page.getByRole('searchbox', { name: 'Look for a song' });
    await field.fill('amazng grac');
    await expect.poll(async () => (await titles(page))[0]).toBe('Amazing Grace');
    expect(page.url()).toContain('q=amazng+grac');
    await field.press('ArrowDown');
    expect(await page.locator(':focus').textContent()).toContain('Amazing Grace');
    await page.keyboard.press('ArrowUp');
    expect(await field.evaluate((each) => each === document.activeElement)).toBe(true);
    expect(await axeFindings(page)).toEqual([]);
    await field.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Amazing Grace' }).waitFor();
    await page.goBack();
    await expect.poll(() => field.inputValue()).toBe('amazng grac');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('keeps both ends of the tempo on one row, and its hint fits, on every screen', async () => {
    for (const viewport of [PHONE, TABLET, { width: 1440, height: 900 }]) {
      const { page, context } = await openPage(browser, { viewport });
      await openBook(page);
      await page.getByRole('button', { name: 'narrow it down' }).click();
      const box = (name: string) => page.getByLabel(name, { exact: true }).boundingBox();
      const [from, to] = [await box('beats a minute from'), await box('to')];
      expect(to?.y).toBe(from?.y);
      const room = await page.getByRole('searchbox').evaluate((field: HTMLInputElement) => {
        const style = getComputedStyle(field);
        const pen = document.createElement('canvas').getContext('2d');
        if (!pen) throw new Error('a canvas');
        pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
        const inside = field.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight); // prettier-ignore
        return inside - pen.measureText(field.placeholder).width;
      });
      expect(room).toBeGreaterThan(0);
      await context.close();
    }
  });

  it('shows the line in which the words stand', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await openBook(page);
    await page.getByRole('searchbox').fill('wretch like me');
    const line = page.getByRole('link', { name: /Amazing Grace/ }).locator('.found');
    await expect.poll(() => line.textContent()).toContain('saved a wretch like me');
    expect(await line.locator('mark').allTextContents()).toContain('wretch');
    await context.close();
  });

  it('is narrowed by a sentence that is taken apart again; the back button goes the same way', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await openBook(page);
    await page.getByRole('button', { name: 'narrow it down' }).click();
    await page.getByLabel('meter', { exact: true }).fill('3/4');
    await page.keyboard.press('Tab');
    await page.getByRole('button', { name: 'Do not ask: in 3/4' }).waitFor();
    await page.getByText('sits inside').locator('..').getByRole('button').click();
    await page.getByRole('button', { name: 'the congregation', exact: true }).click();
    const range = page.getByRole('button', { name: /^Do not ask: sits inside A3–D5/ });
    await range.waitFor();
    await page.getByLabel('Sharps or flats of the key').selectOption('2');
    await expect.poll(() => range.textContent()).toContain('at most two sharps or flats');
    await page.locator('ol[aria-busy=false]').waitFor();
    const found = await titles(page);
    expect(found).toContain('Amazing Grace');
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Do not ask: in 3/4' }).click();
    await expect.poll(async () => (await titles(page)).length).toBeGreaterThan(found.length);
    await page.goBack();
    await expect.poll(() => titles(page)).toEqual(found);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('says what stands in the way where nothing is found', async () => {
    const { page, context } = await openPage(browser, { viewport: PHONE });
    await page.goto(`${app.address}/songs?key=E%20minor&meter=3%2F4&q=grace`);
    await page.getByText('No song in the book is all of this at once.').waitFor();
    const looser = page.getByRole('button', { name: /not “in E minor”: \d+ songs?/ });
    await looser.click();
    await expect.poll(() => titles(page)).toContain('Amazing Grace');
    await context.close();
  });

  it('keeps its list without a network, and says so', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await openBook(page);
    await page.getByRole('link', { name: /Slane/i }).waitFor();
    await context.setOffline(true);
    await page.getByRole('searchbox').fill('grace');
    await page.getByText('The server did not answer').waitFor();
    expect(await titles(page)).toContain('Be Thou My Vision');
    await context.setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await expect.poll(async () => (await titles(page))[0]).toBe('Amazing Grace');
    await context.close();
  });

  it('gives a song that was taken out back, also later', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await openBook(page);
    await page.getByRole('button', { name: 'Take out Silent Night' }).click();
    await page.getByText('Silent Night is out of the book.').waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'songs that were taken out' }).click();
    await page.getByRole('button', { name: 'Bring back Silent Night' }).click();
    await page.getByRole('link', { name: /Silent Night/ }).waitFor();
    await context.close();
  });
});

describe('A tune', () => {
  it('is found by its first notes, tapped in another key than it is written in', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/by-tune`);
    // NEW BRITAIN in A, one whole tone above the hymnal: E A C#-A C# B A (the tune is in the public domain).
    for (const key of ['E 4', 'A 4', 'C sharp 5', 'A 4', 'C sharp 5', 'B 4', 'A 4']) {
      await page.getByRole('button', { name: key, exact: true }).click();
    }
    const tunes = page.getByRole('region', { name: 'Tunes that begin so' });
    await expect.poll(() => tunes.locator('.title').first().textContent()).toBe('Amazing Grace');
    await tunes.getByText('note for note').first().waitFor();
    await page.getByRole('img', { name: 'On a staff: E4, A4, C♯5, A4, C♯5, B4, A4' }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'begin again' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await tunes.getByText('Amazing Grace').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('What is known of a song', () => {
  it('is written on its page, saved by itself, held back where it cannot be, and undone', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const id = await bring('I_Know_That_My_Redeemer_Lives-Duke_Street');
    await page.goto(`${app.address}/songs/${id}`);
    const facts = page.getByRole('region', { name: 'What is known of it' });
    await facts.getByLabel('tune name').fill('Duke of the Street');
    await page.keyboard.press('Tab');
    await page.getByText('The name of the tune stands so.').waitFor();
    await page.getByRole('article').getByText('Duke of the Street').waitFor();
    await facts.getByLabel('themes').fill('guidance, wisdom');
    await page.keyboard.press('Tab');
    await page.getByText('The themes stand so.').waitFor();
    await facts.getByLabel('scripture').fill('Psalm 151');
    await page.keyboard.press('Tab');
    await facts.getByText('there is no 151').waitFor();
    await facts.getByLabel('the tune').selectOption('public domain');
    await facts.getByText('Say why the tune is thought').waitFor();
    await facts.getByLabel('because').fill('a traditional melody, printed in 1909');
    await page.keyboard.press('Tab');
    await facts.getByLabel('a note for yourselves').fill('Start softly.');
    await page.keyboard.press('Tab');
    await page.getByText('The note stands so.').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('Taken back.').waitFor();
    await expect
      .poll(async () => {
        const song = (await (await fetch(`${app.address}/api/songs/${id}`)).json()) as {
          score: { facts: { tune: string | null } };
          details: { themes: string[]; scripture: string[]; rights: { reason: string }[] };
          privateNote: string;
        };
        const { themes, scripture, rights } = song.details;
        const { tune } = song.score.facts;
        return { tune, themes, scripture, reasons: rights.map(({ reason }) => reason), note: song.privateNote }; // prettier-ignore
      })
      .toEqual({
        tune: 'Duke of the Street',
        themes: ['guidance', 'wisdom'],
        scripture: [],
        reasons: ['a traditional melody, printed in 1909'],
        note: '',
      });
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('stands beside other tunes of its meter, with the caution about stress', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/${await songOf('Amazing Grace')}`);
    await page.getByRole('button', { name: 'Another tune for these words' }).click();
    await page.getByRole('link', { name: /St\. Anne/i }).waitFor();
    await page.getByText('stress').first().waitFor();
    await context.close();
  });
});

describe('A song', () => {
  it('is taken out as a file that holds it, and the book as an archive', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/${await songOf('Amazing Grace')}`);
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'MusicXML', exact: true }).click(),
    ]);
    expect(file.suggestedFilename()).toMatch(/^Amazing[ _-]Grace.*\.musicxml$/i);
    const read = MusicXml.read(readFileSync(await file.path(), 'utf8'));
    expect(read.ok && read.value.facts.title).toBe('Amazing Grace');
    await openBook(page);
    const [book] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Take the whole book out' }).click(),
    ]);
    // A zip file begins so (APPNOTE 6.3, 4.3.7).
    expect(readFileSync(await book.path()).subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004'); // prettier-ignore
    await context.close();
  });
});
