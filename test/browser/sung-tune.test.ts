import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium, HOW_TO_GET_ONE } from '#test/support/find-chromium.mjs';
import { openPage, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

const RATE = 48_000;
/** NEW BRITAIN begins so; here in F, between two keys of the piano, with its own lengths in seconds (traditional). */
const TUNE: readonly (readonly [midi: number, seconds: number])[] = [
  [60.3, 0.6],
  [65.3, 1.2],
  [69.3, 0.4],
  [65.3, 0.4],
  [69.3, 1.2],
  [67.3, 0.6],
  [65.3, 1.2],
];

/** A voice of sine waves as a WAV file: PCM, 16 bits, one channel (RIFF, Microsoft and IBM 1991). */
function sing(): Buffer {
  const before = 1.5;
  const total = before + TUNE.reduce((sum, [, seconds]) => sum + seconds, 0) + 30;
  const data = Buffer.alloc(Math.round(total * RATE) * 2);
  let [at, phase] = [Math.round(before * RATE), 0];
  for (const [midi, seconds] of TUNE) {
    const count = Math.round(seconds * RATE);
    for (let i = 0; i < count; i += 1) {
      const t = i / RATE;
      const vibrato = 0.25 * Math.sin(2 * Math.PI * 5.5 * t);
      phase += (2 * Math.PI * 440 * 2 ** ((midi + vibrato - 69) / 12)) / RATE;
      const loud = 0.4 * Math.min(1, t / 0.02, (seconds - t) / 0.02);
      const sound = 0.6 * Math.sin(phase) + 0.3 * Math.sin(2 * phase) + 0.1 * Math.sin(3 * phase);
      data.writeInt16LE(Math.round(32_767 * loud * sound), 2 * (at + i));
    }
    at += count;
  }
  const head = Buffer.alloc(44);
  head.write('RIFF', 0, 'latin1');
  head.writeUInt32LE(36 + data.length, 4);
  head.write('WAVEfmt ', 8, 'latin1');
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(RATE, 24);
  head.writeUInt32LE(2 * RATE, 28);
  head.writeUInt16LE(2, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36, 'latin1');
  head.writeUInt32LE(data.length, 40);
  return Buffer.concat([head, data]);
}

let app: RunningApp;
let browser: Browser;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'partbook-sung-'));
  const voice = join(folder, 'voice.wav');
  writeFileSync(voice, sing());
  const executablePath = findChromium();
  if (!executablePath) throw new Error(HOW_TO_GET_ONE);
  app = await startApp('demo');
  browser = await chromium.launch({
    executablePath,
    headless: true,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-dev-shm-usage',
      '--autoplay-policy=no-user-gesture-required',
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${voice}`,
    ],
  });
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
  rmSync(folder, { recursive: true, force: true });
});

describe('A tune that is sung into the microphone', () => {
  it('is shown note by note, found in whatever key, and nothing is sent but the notes', async () => {
    const options = { viewport: TABLET, permissions: ['microphone'] };
    const { page, context, complaints } = await openPage(browser, options);
    const sent: string[] = [];
    page.on('request', (request) => sent.push(`${request.method()} ${request.url()}`));
    await page.goto(`${app.address}/songs/by-tune`);
    await page.getByRole('button', { name: 'Sing it' }).click();
    await page.getByText('Listening.').waitFor();
    const staff = page.getByRole('img', { name: /^On a staff: / });
    await expect
      .poll(async () => ((await staff.getAttribute('aria-label')) ?? '').split(', ').length, {
        timeout: 20_000,
      })
      .toBe(TUNE.length);
    const tunes = page.getByRole('region', { name: 'Tunes that begin so' });
    await expect.poll(() => tunes.locator('.title').first().textContent()).toBe('Amazing Grace');
    await tunes.getByText('note for note').first().waitFor();
    await page.getByRole('button', { name: 'That is the tune' }).click();
    await page.getByRole('button', { name: 'Sing it' }).waitFor();
    expect(sent.filter((each) => !each.startsWith('GET '))).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('Where the microphone is not allowed', () => {
  it('the page says so, and the keys do the same', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript(() => {
      navigator.mediaDevices.getUserMedia = () =>
        Promise.reject(new DOMException('no', 'NotAllowedError'));
    });
    await page.goto(`${app.address}/songs/by-tune`);
    await page.getByRole('button', { name: 'Sing it' }).click();
    await page.getByText('The microphone was not allowed.').waitFor();
    await context.close();
  });

  it('a page that came without https says that it has none', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript(() => {
      Object.defineProperty(navigator, 'mediaDevices', { value: undefined });
    });
    await page.goto(`${app.address}/songs/by-tune`);
    await page.getByText('This page has no microphone').waitFor();
    await page.getByRole('button', { name: 'C 4', exact: true }).click();
    await page.getByText('2 more notes and the book is asked.').waitFor();
    await context.close();
  });
});
