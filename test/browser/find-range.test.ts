import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium, HOW_TO_GET_ONE } from '#test/support/find-chromium.mjs';
import { chance, singVowel, type SungVowel } from '#test/support/sung-vowels.ts';
import { wavOf } from '#test/support/wav.ts';
import { openPage, TABLET } from './support/pages.ts';
import { addSinger, button, openFinder, read, stored } from './support/range-finder.ts';
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
        const id = await addSinger(app, `Singer ${notes.join('-')}`);
        const options = { viewport: TABLET, permissions: ['microphone'] };
        const { page, complaints } = await openPage(browser, options);
        const sent: string[] = [];
        page.on('request', (request) => {
          if (request.method() !== 'GET')
            sent.push(`${request.method()} ${request.postData() ?? ''}`);
        });
        await openFinder(app, page, `Singer ${notes.join('-')}`);
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
        await expect.poll(async () => (await stored(app, id))['comfortable']).toEqual(range);
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
