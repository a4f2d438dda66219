import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import type { Browser, Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { readPdf } from '#test/support/read-pdf.ts';
import { openPage, PHONE, TABLET } from './support/pages.ts';
import { planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

/*
 * Packets as people get them: the button is pressed in a browser, the file that it keeps is opened by others. Zips by
 * fflate, PDFs by a reader that shares nothing with what writes them. Letter is 8.5 × 11 in (ANSI/ASME Y14.1), A4 is
 * 210 × 297 mm (ISO 216), a point is 1/72 in.
 */

let app: RunningApp;
let browser: Browser;
let planned: PlannedService;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  planned = await planService(app.address);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** The first packet waits for the engraver, on whatever machine this is. */
const MADE = { timeout: 120_000 };

async function bytesOf(download: Download): Promise<Uint8Array> {
  return new Uint8Array(readFileSync(await download.path()));
}

function pagesOf(bytes: Uint8Array) {
  expect(Buffer.from(bytes.subarray(0, 5)).toString('latin1')).toBe('%PDF-');
  const { pages } = readPdf(bytes);
  expect(pages.length).toBeGreaterThan(0);
  return pages;
}

/** Sizes of all pages, in points. */
const sizesOf = (bytes: Uint8Array) => [
  ...new Set(pagesOf(bytes).map(({ width, height }) => `${Math.round(width)} × ${Math.round(height)}`)),
]; // prettier-ignore

const wordsOf = (bytes: Uint8Array): string =>
  pagesOf(bytes)
    .flatMap(({ texts }) => texts.map(({ text }) => text))
    .join(' ');

const packets = (page: Page) => page.getByRole('region', { name: /everyone’s packets/ });

async function openService() {
  const opened = await openPage(browser, { viewport: TABLET, acceptDownloads: true });
  await opened.page.goto(`${app.address}/services/${planned.service}`);
  await packets(opened.page).waitFor();
  return opened;
}

describe('Everyone’s packets, on the leader’s page', () => {
  it('are one press: paper and print are chosen, it says how far it is, and a zip is kept', async () => {
    const { page, context, complaints } = await openService();
    const own = packets(page);
    await own.getByRole('button', { name: 'Letter' }).click();
    await own.getByRole('button', { name: 'large print' }).click();
    for (const name of ['Letter', 'large print'])
      expect(await own.getByRole('button', { name }).getAttribute('aria-pressed')).toBe('true');
    const kept = page.waitForEvent('download', MADE);
    await own.getByRole('button', { name: 'Make everyone’s packets' }).click();
    await own.getByText(/making it: \d+ of \d+ steps/).waitFor(MADE);
    expect(await own.getByRole('progressbar').count()).toBe(1);
    const download = await kept;
    await own.getByRole('status').filter({ hasText: 'The packet is ready.' }).waitFor({ state: 'attached' }); // prettier-ignore
    expect(download.suggestedFilename()).toMatch(/\.zip$/);
    const files = unzipSync(await bytesOf(download));
    const names = Object.keys(files);
    const people = Object.keys(planned.people);
    expect(names).toHaveLength(people.length);
    for (const person of people) {
      const name = names.find((each) => each.startsWith(person));
      expect(name, `${person} among ${names.join(', ')}`).toMatch(/\.pdf$/);
      const bytes = files[name ?? ''] ?? new Uint8Array();
      expect(sizesOf(bytes), person).toEqual(['612 × 792']);
      expect(wordsOf(bytes), person).toContain(person);
    }
    expect(complaints).toEqual([]);
    await context.close();
  }, 240_000);

  it('stop where “stop” is pressed, and the page says so and keeps nothing', async () => {
    const { page, context, complaints } = await openService();
    let downloads = 0;
    page.on('download', () => (downloads += 1));
    const own = packets(page);
    await own.getByRole('button', { name: 'A4' }).click();
    await own.getByRole('button', { name: 'usual print' }).click();
    await own.getByRole('button', { name: 'Make everyone’s packets' }).click();
    await own.getByRole('button', { name: 'stop' }).click();
    await own
      .getByRole('status')
      .filter({ hasText: 'Stopped; no packet was made.' })
      .waitFor({ state: 'attached' });
    await own.getByRole('button', { name: 'Make everyone’s packets' }).waitFor();
    expect(await own.getByRole('progressbar').count()).toBe(0);
    expect(await own.getByRole('alert').count()).toBe(0);
    expect(downloads).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('One’s own packet, on a telephone by set link', () => {
  it('is a PDF of all sheets, with the words that one sings', async () => {
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      hasTouch: true,
      acceptDownloads: true,
    });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: /^Ruth/ }).tap();
    await page.getByTestId('where').tap();
    const tray = page.getByRole('dialog', { name: 'Songs and settings' });
    await tray.getByRole('button', { name: 'A4' }).tap();
    const kept = page.waitForEvent('download', MADE);
    await tray.getByRole('button', { name: 'PDF of all' }).tap();
    const download = await kept;
    expect(download.suggestedFilename()).toMatch(/^Ruth.*\.pdf$/);
    const bytes = await bytesOf(download);
    expect(sizesOf(bytes)).toEqual(['595 × 842']);
    // First lines of the three hymns; under notes a word stands in syllables.
    const said = wordsOf(bytes).replace(/[^\p{L}]/gu, '');
    for (const words of ['Amazinggrace', 'OcomeOcomeEmmanuel', 'Silentnight'])
      expect(said.toLowerCase()).toContain(words.toLowerCase());
    expect(complaints).toEqual([]);
    await context.close();
  }, 180_000);
});
