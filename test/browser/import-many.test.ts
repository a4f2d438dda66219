import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { unzipSync, zipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Abc, Midi, MusicXml } from '#music';
import type { SongList } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let folder: string;

const WORDS = 'The Morning Lamp\nKey: G\n\nVerse 1\nG        C     G\nA lamp in the window\n';

function scoreOf(name: string) {
  const read = Abc.read(hymn(name));
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error(`${name} can be read`);
  return score;
}

/** A folder as a team may have it: five formats, one file damaged, one that is no song, one song twice. */
beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  folder = mkdtempSync(join(tmpdir(), 'partbook-folder-'));
  mkdirSync(join(folder, 'advent'));
  const put = (path: string, content: string | Uint8Array) =>
    writeFileSync(join(folder, path), content);
  put('Slane.abc', hymn('Be_Thou_My_Vision-Slane'));
  put('advent/Picardy.musicxml', MusicXml.write(scoreOf('Let_All_Mortal_Flesh_Keep_Silence-Picardy'))); // prettier-ignore
  put('Nicaea.mid', Midi.write(scoreOf('Holy_Holy_Holy-Nicaea')));
  put('lamp.txt', WORDS);
  put('Slane again.abc', hymn('Be_Thou_My_Vision-Slane'));
  put('cut off.musicxml', '<?xml version="1.0"?><score-partwise><part-list>');
  put('scan.pdf', '%PDF-1.4');
  put('.DS_Store', 'x');
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const inBook = async (): Promise<string[]> => {
  const { songs } = (await (await fetch(`${app.address}/api/songs`)).json()) as SongList;
  return songs.map(({ title }) => title).sort();
};

async function emptyBook(): Promise<void> {
  const { songs } = (await (await fetch(`${app.address}/api/songs`)).json()) as SongList;
  for (const { id, version } of songs) {
    const headers = { 'if-match': `"v${version}"` };
    await fetch(`${app.address}/api/songs/${id}`, { method: 'DELETE', headers });
  }
}

async function chooseFolder(page: Page): Promise<void> {
  await page.goto(`${app.address}/songs/new`);
  await page.getByLabel('Choose a folder').setInputFiles(folder);
}

const FOUR = [
  'Be Thou My Vision',
  'Holy, Holy, Holy',
  'Let All Mortal Flesh Keep Silence',
  'The Morning Lamp',
];

describe('A folder of files', () => {
  it('is brought with one report: in, left out with why, failed with why; out again in one step, and back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await chooseFolder(page);
    await page.getByText(/^4 songs are in.*2 left out, 1 could not be read\.$/).waitFor();
    expect(await inBook()).toEqual(FOUR);
    const failed = page.getByRole('region', { name: 'could not be read' });
    expect(await failed.textContent()).toMatch(/cut off\.musicxml.*[Ll]ine 1/);
    const left = page.getByRole('region', { name: 'left out' });
    expect(await left.textContent()).toContain('is in the book and has the same title');
    expect(await left.textContent()).toContain('scan.pdf');
    expect(await page.getByText('.DS_Store').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);

    await left.getByRole('button', { name: 'Bring it all the same: Be Thou My Vision' }).click();
    await expect.poll(inBook).toEqual(['Be Thou My Vision', ...FOUR]);

    await page.getByRole('button', { name: 'Take all of these out again' }).click();
    await page.getByText('5 songs are out again.').waitFor();
    expect(await inBook()).toEqual([]);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(inBook).toEqual(['Be Thou My Vision', ...FOUR]);
    await page.getByRole('button', { name: 'Take all of these out again' }).click();
    await page.getByText('5 songs are out again.').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('waits where the network goes, and goes on when it is back', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await context.setOffline(true);
    await page.getByLabel('Choose a folder').setInputFiles(folder);
    await page.getByText('The network is gone.').waitFor();
    await context.setOffline(false);
    await page.getByText(/^4 songs are in/).waitFor();
    expect(await inBook()).toEqual(FOUR);
    await page.getByRole('button', { name: 'Take all of these out again' }).click();
    await page.getByText('4 songs are out again.').waitFor();
    await context.close();
  });
});

describe('The archive of a book', () => {
  it('is brought in again: what is in the book is left out, what is not comes back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await chooseFolder(page);
    await page.getByText(/^4 songs are in/).waitFor();
    const book = Buffer.from(await (await fetch(`${app.address}/api/library`)).arrayBuffer());
    const { songs } = (await (await fetch(`${app.address}/api/songs`)).json()) as SongList;
    const slane = songs.find(({ title }) => title === 'Be Thou My Vision');
    await fetch(`${app.address}/api/songs/${slane?.id}`, {
      method: 'DELETE',
      headers: { 'if-match': `"v${slane?.version}"` },
    });
    await page.getByRole('button', { name: 'put another song in' }).click();
    await page
      .getByLabel('Choose files')
      .setInputFiles([{ name: 'book.zip', mimeType: 'application/zip', buffer: book }]);
    await page.getByText(/^1 song is in.*3 left out/).waitFor();
    expect(await inBook()).toEqual(FOUR);
    // One of those that were left out, all the same, and out again.
    const again = page.getByRole('button', { name: 'Bring it all the same: The Morning Lamp' });
    await again.click();
    await page.getByText('The Morning Lamp is in the book too.').waitFor();
    expect(await inBook()).toEqual([...FOUR, 'The Morning Lamp']);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(inBook).toEqual(FOUR);
    await again.waitFor();
    expect(complaints).toEqual([]);
    await emptyBook();
    await context.close();
  });
});

describe('An archive of many songs', () => {
  it('tells how far it is, is stopped, and the report has exactly what is in', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    const bytes = hymn('Be_Thou_My_Vision-Slane').toString('base64');
    await fetch(`${app.address}/api/songs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ format: 'abc', bytes }),
    });
    const files = unzipSync(
      new Uint8Array(await (await fetch(`${app.address}/api/library`)).arrayBuffer()),
    );
    const manifest = JSON.parse(Buffer.from(files['manifest.json'] ?? []).toString()) as {
      songs: object[];
    };
    await emptyBook();
    const count = 600;
    const songs = Array.from({ length: count }, () => manifest.songs[0]);
    files['manifest.json'] = Buffer.from(JSON.stringify({ ...manifest, songs }));
    const buffer = Buffer.from(zipSync(files));
    await page.goto(`${app.address}/songs/new`);
    await page
      .getByLabel('Choose files')
      .setInputFiles([{ name: 'book.zip', mimeType: 'application/zip', buffer }]);
    await page.getByText(/^\d+ of 600 songs of book\.zip$/).waitFor();
    await page.getByRole('button', { name: 'Stop here' }).click();
    await page.getByText('the rest of book.zip waits here').waitFor();
    const inIt = await inBook();
    expect(inIt.length).toBeLessThan(count);
    await page.getByText(new RegExp(`^${inIt.length} songs? (is|are) in`)).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'leave the rest' }).click();
    expect(complaints).toEqual([]);
    await emptyBook();
    await context.close();
  });
});

describe('One file', () => {
  it('of MIDI is shown before it is kept, and a person says which track is the tune', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.getByLabel('Choose files').setInputFiles(join(folder, 'Nicaea.mid'));
    await page.getByRole('group', { name: 'which track is the tune' }).waitFor();
    await page.getByRole('radio', { name: /S1V2/ }).check();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: 'Holy, Holy, Holy' }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('that cannot be read says why, and nothing is kept', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    const before = await inBook();
    await page.goto(`${app.address}/songs/new`);
    await page.getByLabel('Choose files').setInputFiles(join(folder, 'cut off.musicxml'));
    await page.getByText('It cannot be read yet').waitFor();
    await page.getByText('perhaps the file is cut off').waitFor();
    expect(await page.getByRole('button', { name: 'Keep this song' }).count()).toBe(0);
    expect(await inBook()).toEqual(before);
    await context.close();
  });
});

describe('Words whose chords have German names', () => {
  it('are read so once a person says it, and are kept so', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page
      .locator('textarea')
      .fill('Abendlied\n\nStrophe 1\nG     H     C\nHell in der Nacht\n');
    await page.getByLabel('the chords are').selectOption('German');
    await page.getByText('The text says so now.').waitFor();
    expect(await page.locator('textarea').inputValue()).toContain('Chords: German');
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: 'Abendlied' }).waitFor();
    await page.getByRole('region', { name: 'Words with chords' }).getByText('B', { exact: true }).waitFor(); // prettier-ignore
    await context.close();
  });
});
