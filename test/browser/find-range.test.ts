import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { findChromium, HOW_TO_GET_ONE } from '#test/support/find-chromium.mjs';
import { chance, singVowel, type SungVowel } from '#test/support/sung-vowels.ts';
import { wavOf } from '#test/support/wav.ts';
import { axeFindings, openPage, PHONE, TABLET } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

const RATE = 48_000;
const CENTS = 20;
/** Seconds: how long each note is sung, what lies between two, and before the first while the asked note sounds. */
const [LONG, BETWEEN, BEFORE] = [4, 0.5, 2.5];

interface Sings {
  readonly who: string;
  readonly button: RegExp;
  readonly voice: Omit<SungVowel, 'midi' | 'seconds'>;
  /** What is sung, in the order in which it is asked, C4 = 60. */
  readonly notes: readonly number[];
  /** The notes that take effort: they are said to, and not sung. */
  readonly effort: readonly string[];
  readonly range: { readonly low: string; readonly high: string };
}

const SINGERS: readonly Sings[] = [
  {
    who: 'a man in noise 10 dB below his voice',
    button: /^a lower voice/,
    voice: { throat: 'man', vowel: 'ɑ', noiseDb: 10 },
    notes: [50, 48, 46, 52, 54],
    effort: ['A♭2', 'A2', 'A♭3', 'G3'],
    range: { low: 'Bb2', high: 'F#3' },
  },
  {
    who: 'a woman with vibrato of a whole tone, 6 a second',
    button: /^a higher voice/,
    voice: { throat: 'woman', vowel: 'ɛ', vibrato: { cents: 100, rate: 6 } },
    notes: [65, 63, 61, 67, 69],
    effort: ['B3', 'C4', 'B4', 'B♭4'],
    range: { low: 'C#4', high: 'A4' },
  },
  {
    who: 'a child',
    button: /^a child’s voice/,
    voice: { throat: 'child', vowel: 'i' },
    notes: [65, 63, 67, 69],
    effort: ['C♯4', 'B4'],
    range: { low: 'Eb4', high: 'A4' },
  },
];

/** All that is sung, one note after the other, and a long silence, as the browser begins anew at the end. */
function sing({ voice, notes }: Sings): Buffer {
  const all = new Float32Array(Math.round((BEFORE + notes.length * (LONG + BETWEEN) + 40) * RATE));
  // The noise goes on where nobody sings; a voice here has the loudness 0.1.
  if (voice.noiseDb !== undefined) {
    const next = chance(7);
    const loud = 0.1 * Math.sqrt(3 * 10 ** (-voice.noiseDb / 10));
    all.forEach((_, i) => (all[i] = loud * next()));
  }
  notes.forEach((midi, i) => {
    const at = Math.round((BEFORE + i * (LONG + BETWEEN)) * RATE);
    all.set(singVowel({ ...voice, midi, seconds: LONG }, RATE), at);
  });
  return wavOf(all, RATE);
}

const NAMES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** What the page says is sung, read by eye: `B♭2, 8 cents high`; C4 = 60. */
function read(said: string): number {
  const [, letter = '', sign, octave, cents = '0', way] =
    /^([A-G])([♯♭]?)(\d)(?:, (\d+) cents? (high|low))?$/.exec(said) ?? [];
  const alter = sign === '♯' ? 1 : sign === '♭' ? -1 : 0;
  const midi = 12 * (Number(octave) + 1) + (NAMES[letter] ?? NaN) + alter;
  return midi + ((way === 'low' ? -1 : 1) * Number(cents)) / 100;
}

let app: RunningApp;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'partbook-range-'));
  app = await startApp();
});

afterAll(async () => {
  await app?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function addSinger(name: string, more: object = {}): Promise<string> {
  const made = await call(app.address, 'POST', '/members', {
    name,
    roles: ['lead voice'],
    ...more,
  });
  return made['id'] as string;
}

async function stored(id: string): Promise<Record<string, unknown>> {
  return call(app.address, 'GET', `/members/${id}`);
}

async function openFinder(page: Page, name: string): Promise<void> {
  await page.goto(`${app.address}/people`);
  await page
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .first()
    .click();
  await page.getByRole('button', { name: 'Find it in two minutes' }).click();
}

const asked = (page: Page) => page.locator('.find .asked');
const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

/** Answers as a voice does that has these notes, C4 = 60, by the buttons, until a range is found. */
async function answerAs(
  page: Page,
  low: number,
  high: number,
  press: (name: string) => Promise<void>,
) {
  for (let i = 0; i < 40; i += 1) {
    if (!(await asked(page).count())) return;
    const said = (await asked(page).innerText()).split(': ')[1] ?? '';
    const midi = read(said);
    const isFirst = (await button(page, 'Too low for me').count()) > 0;
    const beside = midi < low ? 'Too low for me' : 'Too high for me';
    const isEasy = midi >= low && midi <= high;
    await press(isEasy ? 'That was easy' : isFirst ? beside : 'That took effort');
  }
}

describe('A range that is sung into the microphone', () => {
  it.each(SINGERS)(
    'of $who is found, each note shown within 20 cents and never an octave off',
    async (sings) => {
      const { button: kind, notes, effort, range } = sings;
      const file = join(folder, 'voice.wav');
      writeFileSync(file, sing(sings));
      const executablePath = findChromium();
      if (!executablePath) throw new Error(HOW_TO_GET_ONE);
      const browser = await chromium.launch({
        executablePath,
        headless: true,
        args: [
          '--no-sandbox',
          '--disable-gpu',
          '--disable-dev-shm-usage',
          '--autoplay-policy=no-user-gesture-required',
          '--use-fake-device-for-media-stream',
          '--use-fake-ui-for-media-stream',
          `--use-file-for-fake-audio-capture=${file}`,
        ],
      });
      try {
        const id = await addSinger(`Singer ${notes.join('-')}`);
        const options = { viewport: TABLET, permissions: ['microphone'] };
        const { page, complaints } = await openPage(browser, options);
        const sent: string[] = [];
        page.on('request', (request) => {
          if (request.method() !== 'GET')
            sent.push(`${request.method()} ${request.postData() ?? ''}`);
        });
        await openFinder(page, `Singer ${notes.join('-')}`);
        await page.getByRole('button', { name: kind }).click();
        await page.evaluate(() => {
          const seen: [string, string][] = [];
          Object.assign(globalThis, { seen });
          new MutationObserver(() => {
            const of = (query: string) => document.querySelector(query)?.textContent?.trim() ?? '';
            seen.push([of('.find .asked'), of('[data-testid=sung]')]);
          }).observe(document.body, { subtree: true, childList: true, characterData: true });
        });
        await page.getByText('nothing is recorded').waitFor();
        await button(page, 'Sing into the microphone').click();
        for (const note of effort) {
          await page.locator('.find .asked', { hasText: `: ${note}` }).waitFor({ timeout: 40_000 });
          await button(page, 'That took effort').click();
        }
        await button(page, 'Keep it').click();
        await expect.poll(async () => (await stored(id))['comfortable']).toEqual(range);
        const seen = await page.evaluate(
          () => (globalThis as unknown as { seen: [string, string][] }).seen,
        );
        const shown = seen.filter(([, said]) => /^[A-G]/.test(said));
        expect(shown.length).toBeGreaterThan(notes.length);
        for (const [, said] of shown) {
          const near = Math.min(...notes.map((midi) => Math.abs(midi - read(said))));
          expect(near, `${said} is near what is sung`).toBeLessThan(1.5);
        }
        // The last that was shown of each note before the next was asked.
        for (const midi of notes) {
          const of = shown.filter(([note]) => read(note.split(': ')[1] ?? '') === midi);
          const cents = 100 * (read(of.at(-1)?.[1] ?? '') - midi);
          expect(Math.abs(cents), `${midi}: ${of.at(-1)?.[1] ?? 'never'}`).toBeLessThanOrEqual(
            CENTS,
          );
        }
        const isChild = sings.voice.throat === 'child' && { child: true };
        expect(sent).toEqual([`PATCH ${JSON.stringify({ comfortable: range, ...isChild })}`]);
        expect(complaints).toEqual([]);
      } finally {
        await browser.close();
      }
    },
    120_000,
  );
});

describe('Without a microphone', () => {
  let browser: Browser;
  let planned: PlannedService;
  beforeAll(async () => {
    browser = await launchChromium();
    planned = await planService(app.address);
  });
  afterAll(async () => browser?.close());

  it('the keys and two answers find it, a step can be taken back, and it can be undone', async () => {
    const id = await addSinger('Keziah');
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      hasTouch: true,
    });
    await openFinder(page, 'Keziah');
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: /^a middle voice/ }).tap();
    await asked(page).getByText('One note in the middle: A3').waitFor();
    await page.getByText('The first note that takes effort').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'A 3, asked now' }).tap();
    await button(page, 'That was easy').tap();
    await asked(page).getByText('A step lower: G3').waitFor();
    await button(page, 'back a step').tap();
    await asked(page).getByText('One note in the middle: A3').waitFor();
    await answerAs(page, 55, 67, (name) => button(page, name).tap());
    await page.getByText('G3 to G4 sits easily for Keziah.').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);
    await button(page, 'Keep it').tap();
    await expect
      .poll(async () => (await stored(id))['comfortable'])
      .toEqual({ low: 'G3', high: 'G4' });
    await page.getByText(/^Marked \d+ \w+ \d{4}\.$/).waitFor();
    await button(page, 'Undo').tap();
    await expect.poll(async () => (await stored(id))['comfortable']).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('everything is done by keyboard alone, and the answer stays under the finger', async () => {
    const id = await addSinger('Lois');
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/people`);
    const focus = async (name: RegExp) => {
      for (let i = 0; i < 200; i += 1) {
        await page.keyboard.press('Tab');
        const said = await page.evaluate(() => document.activeElement?.textContent ?? '');
        if (name.test(said.trim())) return;
      }
      throw new Error(`Tab never came to ${String(name)}`);
    };
    await focus(/^Lois/);
    await page.keyboard.press('Enter');
    await focus(/^Find it in two minutes/);
    await page.keyboard.press('Enter');
    await focus(/^a higher voice/);
    await page.keyboard.press('Enter');
    await focus(/^That was easy/);
    await page.keyboard.press('Enter');
    // Enter again answers the next note: the button stays where it is and keeps the focus.
    await asked(page).getByText('A step lower: E♭4').waitFor();
    await page.keyboard.press('Enter');
    await asked(page).getByText('A step lower: C♯4').waitFor();
    await answerAs(page, 61, 72, async (name) => {
      const at = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
      for (let i = 0; (await at()) !== name && i < 200; i += 1) await page.keyboard.press('Tab');
      await page.keyboard.press('Enter');
    });
    await page.getByText('C♯4 to C5 sits easily for Lois.').waitFor();
    await focus(/^Keep it/);
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => (await stored(id))['comfortable'])
      .toEqual({ low: 'C#4', high: 'C5' });
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['insecure', 'came by https'],
    ['missing', 'No microphone was found'],
    ['refused', 'The microphone was not allowed'],
  ])('a page whose microphone is %s says so, and the keys do the job', async (why, words) => {
    await addSinger(`Without ${why}`, { child: true });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript((reason) => {
      const { mediaDevices } = navigator;
      if (reason === 'insecure') {
        Object.defineProperty(navigator, 'mediaDevices', { value: undefined });
        Object.defineProperty(globalThis, 'isSecureContext', { value: false });
      } else {
        const name = reason === 'missing' ? 'NotFoundError' : 'NotAllowedError';
        mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', name));
      }
    }, why);
    await openFinder(page, `Without ${why}`);
    // A child is asked as a child, and nothing else is offered.
    expect(await page.locator('.find .kind').count()).toBe(1);
    await page.getByText('keep name and range private').first().waitFor();
    await page.getByRole('button', { name: /^a child’s voice/ }).click();
    if (why !== 'insecure') await button(page, 'Sing into the microphone').click();
    await page.getByText(words).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await answerAs(page, 63, 69, (name) => button(page, name).click());
    await page.getByText('E♭4 to A4 sits easily').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a singer finds their own by a set link, and an old one is asked for in one line', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: 'My comfortable range, Ruth' }).click();
    await button(page, 'Find it in two minutes').click();
    await page.getByRole('button', { name: /^a middle voice/ }).click();
    await answerAs(page, 57, 72, (name) => button(page, name).click());
    await page.getByText('A3 to C5 sits easily for Ruth.').waitFor();
    await button(page, 'Keep it').click();
    await page.getByText('Thank you, Ruth.').waitFor();
    await expect
      .poll(async () => (await stored(planned.people['Ruth'] ?? ''))['comfortable'])
      .toEqual({ low: 'A3', high: 'C5' });
    await page.getByText(/^Marked \d+ \w+ \d{4}\.$/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: /^Ruth/ }).first().click();
    await page.getByTestId('where').waitFor();
    // A year and a day later.
    const later = new Date(Date.now() + 367 * 86_400_000);
    const again = await context.newPage();
    await again.clock.setFixedTime(later);
    await again.goto(`${app.address}/s/${planned.link}`);
    await again.getByText('after a year (our number)').waitFor();
    await again.getByRole('button', { name: 'my range again' }).click();
    await again.getByRole('button', { name: 'still true: the range of Ruth' }).waitFor();
    expect(await axeFindings(again)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('an old range on the people page is said in one line, and is true again with one press', async () => {
    const id = await addSinger('Naomi', { comfortable: { low: 'A3', high: 'C5' } });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.clock.setFixedTime(new Date(Date.now() + 400 * 86_400_000));
    await page.goto(`${app.address}/people`);
    await page.getByText('· worth asking again').first().waitFor();
    await page
      .getByRole('button', { name: /^Naomi/ })
      .first()
      .click();
    await page.getByText('after a year (our number)').waitFor();
    const before = (await stored(id))['rangeMarkedAt'] as string;
    await page.getByRole('button', { name: 'still true: the range of Naomi' }).click();
    await expect
      .poll(async () => Date.parse((await stored(id))['rangeMarkedAt'] as string))
      .toBeGreaterThan(Date.parse(before));
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('everybody’s range stands on one great staff, is walked with the arrow keys, and is a table too', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/people`);
    const bars = page.getByRole('group', { name: 'The ranges of the team, low voices first' });
    await bars.getByRole('button').first().waitFor();
    const names = await bars
      .getByRole('button')
      .evaluateAll((all) => all.map((each) => each.getAttribute('aria-label') ?? ''));
    expect(names.length).toBeGreaterThan(2);
    await bars.getByRole('button').first().focus();
    await page.keyboard.press('End');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      names.at(-1),
    );
    await page.keyboard.press('Enter');
    await page.getByText('The same as a table').click();
    const rows = page.getByRole('table', { name: /low voices first/ }).getByRole('row');
    expect(await rows.count()).toBe(names.length + 1);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
