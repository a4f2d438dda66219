import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Song } from '#server/contract/songs.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { made, saved, SOON } from './support/editor.ts';
import { axeFindings, openPage, PHONE, TABLET, type WatchedPage } from './support/pages.ts';
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

const QUARTER = 20160;
const LONG = 120_000;

/** Eight bars of 4/4, a note on every beat of the first four; a tune of our own. */
const TUNE = `X:1
T:Ladder
M:4/4
L:1/4
K:C
CDEF | GABc | cBAG | FEDC | z4 | z4 | z4 | z4 |]
`;

/** Two sections that are called by numbers, each with words of two verses. */
const NUMBERED = `X:1
T:Numbers
M:4/4
L:1/4
K:C
P:Verse 1
CDEF | GABc |
w:la la la la la la la la
w:lo lo lo lo lo lo lo lo
P:Verse 2
cBAG | FEDC |]
w:la la la la la la la la
w:lo lo lo lo lo lo lo lo
`;

const makeSong = (text = TUNE): Promise<Song> => made(app, { format: 'abc', text });

async function scoreOf({ id }: Song): Promise<Song['score']> {
  return ((await (await fetch(`${app.address}/api/songs/${id}`)).json()) as Song).score;
}

async function edit(
  song: Song,
  viewport: { width: number; height: number } = TABLET,
): Promise<WatchedPage> {
  // prettier-ignore
  const watched = await openPage(browser, { viewport });
  await watched.page.goto(`${app.address}/songs/${song.id}/edit`);
  await watched.page.locator('.place').first().waitFor({ state: 'attached', timeout: 30_000 });
  return watched;
}

/** The cursor at the start of a bar, the panel open. */
async function at(page: Page, bar: number, panel: 'Bars' | 'Words' | 'Passes'): Promise<void> {
  await page.locator('#written-music').focus();
  await page.keyboard.press('Home');
  for (let each = 1; each < bar; each += 1) await page.keyboard.press('Control+ArrowRight');
  await page.getByRole('button', { name: panel, exact: true }).click();
}

describe('What changes with a bar', () => {
  it(
    'is a tempo, a meter or a key, and each is taken back where it stands',
    async () => {
      const song = await makeSong();
      const { page, context, complaints } = await edit(song);
      await at(page, 3, 'Bars');
      const here = page.getByRole('group', { name: 'From bar 3 on' });
      await here.getByLabel('Tempo, counted in').selectOption({ label: 'half' });
      await here.getByLabel('Tempo, beats a minute').fill('60');
      await here.getByLabel('Tempo, beats a minute').press('Enter');
      const tempo = { at: 8 * QUARTER, tempo: { beat: 2 * QUARTER, perMinute: 60 } };
      await expect.poll(async () => (await scoreOf(song)).tempoChanges, SOON).toEqual([tempo]);
      await here.getByLabel('meter').selectOption('2/4');
      await expect.poll(async () => (await scoreOf(song)).meters, SOON).toHaveLength(2);
      expect(await here.getByRole('button', { name: /^take this change of/ }).allTextContents()).toEqual(['take this change of meter back', 'take this change of tempo back']); // prettier-ignore
      // Before the change neither is there to be taken back; the song's own tempo is another field.
      await at(page, 2, 'Bars');
      const before = page.getByRole('group', { name: 'From bar 2 on' });
      expect(await before.getByRole('button', { name: /^take this/ }).count()).toBe(0);
      await at(page, 3, 'Bars');
      await here.getByRole('button', { name: 'take this change of tempo back' }).click();
      await here.getByRole('button', { name: 'take this change of meter back' }).click();
      await expect.poll(async () => (await scoreOf(song)).meters, SOON).toHaveLength(1);
      expect((await scoreOf(song)).tempoChanges ?? []).toEqual([]);
      expect((await scoreOf(song)).bars).toHaveLength(8);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );

  it(
    'what is refused is not shown as if it were done',
    async () => {
      const song = await makeSong();
      const { page, context, complaints } = await edit(song);
      await at(page, 1, 'Bars');
      const whole = page.getByRole('group', { name: 'The whole song' });
      const perMinute = whole.getByLabel('Tempo, beats a minute');
      await perMinute.fill('9000');
      await perMinute.press('Enter');
      await page.getByText(/A tempo lies between/).waitFor();
      expect(await perMinute.inputValue()).toBe('');
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

describe('A pickup', () => {
  it(
    'is half a beat, or any number of them',
    async () => {
      const song = await makeSong();
      const { page, context, complaints } = await edit(song);
      await at(page, 1, 'Bars');
      const pickup = page.getByRole('combobox', { name: /^pickup/ });
      for (const [label, length] of [
        ['½ beat: eighth', QUARTER / 2],
        ['2½ beats: 5 eighths', 2.5 * QUARTER],
      ] as const) {
        await pickup.selectOption({ label });
        const first = async () => (await scoreOf(song)).bars[0];
        await expect.poll(first, SOON).toMatchObject({ number: 0, length });
      }
      await pickup.selectOption({ label: 'none' });
      await expect.poll(async () => (await scoreOf(song)).bars.length, SOON).toBe(8);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

describe('Endings', () => {
  it(
    'are given to bars, several to one, and pressed again taken away',
    async () => {
      const song = await makeSong();
      const { page, context, complaints } = await edit(song);
      const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
      await at(page, 2, 'Bars');
      await press('Ending 1');
      await press('Ending 3');
      await press('repeat to here');
      await page.getByText('endings 1, 3 share bar 2').waitFor();
      await at(page, 3, 'Bars');
      await press('Ending 2');
      await press('repeat to here');
      await at(page, 4, 'Bars');
      await press('Ending 4');
      await press('Ending 1');
      await press('Ending 1');
      const endings = async () => (await scoreOf(song)).bars.map((bar) => bar.endings);
      await expect.poll(endings, SOON).toEqual([[], [1, 3], [2], [4], [], [], [], []]);
      expect(await axeFindings(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

describe('Words', () => {
  it(
    'begin at the cursor, are counted without what is held, and leave the notes after them alone',
    async () => {
      const song = await makeSong();
      const { page, context, complaints } = await edit(song, PHONE);
      await at(page, 2, 'Words');
      await page.getByRole('button', { name: /^begin with bar 2, beat 1/ }).click();
      await page.keyboard.type('Go up the lad-der _ now');
      await page.getByText('6 syllables and 1 held note for 12 notes:').waitFor();
      await page.getByText('The words begin with bar 2, beat 1.').waitFor();
      const syllables = async () =>
        (await scoreOf(song)).voices[0]?.notes
          .slice(0, 12)
          .map((note) => note.syllables?.[0]?.text ?? '.')
          .join(' ');
      await expect.poll(syllables, SOON).toBe('. . . . Go up the lad der . now .');
      await saved(page);
      // MusicXML 4.0, element `extend`: only under the syllable that is held.
      const file = await (await fetch(`${app.address}/api/songs/${song.id}/musicxml`)).text();
      expect(file.match(/<extend\b/g)).toHaveLength(1);
      await page.keyboard.type(' _ _');
      const extends2 = async () =>
        (await (await fetch(`${app.address}/api/songs/${song.id}/musicxml`)).text()).match(
          /<extend\b/g,
        )?.length;
      await expect.poll(extends2, SOON).toBe(2);
      await page.getByRole('button', { name: 'begin with the first note' }).click();
      await expect.poll(syllables, SOON).toBe('Go up the lad der . now . . . . .');
      expect(await axeFindings(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});

describe('Passes', () => {
  it(
    'through sections that are called by a number say it once',
    async () => {
      const song = await makeSong(NUMBERED);
      const { page, context, complaints } = await edit(song);
      await at(page, 1, 'Passes');
      const passes = page.getByRole('listitem').filter({ hasText: 'leave out' });
      const names = async () =>
        (await passes.allTextContents()).map((text) => text.replace(/\s+/g, ' '));
      expect(await names()).toEqual([
        expect.stringMatching(/^ ?1 Verse 1 ↑/),
        expect.stringMatching(/^ ?2 Verse 2, verse 1 ↑/),
        expect.stringMatching(/^ ?3 Verse 1, verse 2 ↑/),
        expect.stringMatching(/^ ?4 Verse 2 ↑/),
      ]);
      expect(complaints).toEqual([]);
      await context.close();
    },
    LONG,
  );
});
