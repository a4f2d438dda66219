import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, TABLET } from './support/pages.ts';
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

async function storedRange(
  name: string,
  which: 'comfortable' | 'limit' = 'comfortable',
): Promise<unknown> {
  const response = await fetch(`${app.address}/api/members`);
  const { members } = (await response.json()) as {
    members: { name: string; comfortable: unknown; limit: unknown }[];
  };
  return members.find((member) => member.name === name)?.[which];
}

/** Goes along with Tab until the thing that has the focus is called so. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let i = 0; i < 60; i += 1) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => {
      const element = document.activeElement;
      const label = element?.closest('label')?.textContent ?? '';
      const placeholder = element?.getAttribute('placeholder') ?? '';
      return `${element?.getAttribute('aria-label') ?? ''}${placeholder} ${label} ${element?.textContent ?? ''}`;
    });
    if (name.test(focused)) return;
  }
  throw new Error(`Tab never came to ${String(name)}`);
}

describe('A singer', () => {
  it('is added by keyboard alone, with the lowest and highest note that sit easily', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/people`);
    await page.getByText('Nobody is here yet').waitFor();
    await tabTo(page, /add a name/);
    await page.keyboard.type('Ruth');
    await page.keyboard.press('Enter');
    await page.getByText('lowest that sits easily').waitFor();
    await tabTo(page, /^A 3/);
    await page.keyboard.press('Enter');
    // It goes on to the highest by itself.
    await page.keyboard.press('PageUp');
    for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.getByText('A3–C5').waitFor();
    await expect.poll(() => storedRange('Ruth')).toEqual({ low: 'A3', high: 'C5' });
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is added by touch, reads the cautions, and comes back when taken off by mistake', async () => {
    const options = { viewport: TABLET, hasTouch: true };
    const { page, context, complaints } = await openPage(browser, options);
    await page.goto(`${app.address}/people`);
    await page.getByPlaceholder('add a name').fill('Tomas');
    await page.getByRole('button', { name: 'Add', exact: true }).tap();
    await page.getByText('Nobody’s range is a target').waitFor();
    await page.getByRole('button', { name: /^C 3/ }).tap();
    await page.getByRole('button', { name: /^E 4/ }).tap();
    await expect.poll(() => storedRange('Tomas')).toEqual({ low: 'C3', high: 'E4' });
    await page.getByRole('button', { name: 'take Tomas off the list' }).tap();
    await page.getByText('Tomas is off the list.').waitFor();
    expect(await storedRange('Tomas')).toBeUndefined();
    await page.getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(() => storedRange('Tomas')).toEqual({ low: 'C3', high: 'E4' });
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('has the furthest notes too, which are asked for quietly and enclose what sits easily', async () => {
    const options = { viewport: TABLET, hasTouch: true };
    const { page, context, complaints } = await openPage(browser, options);
    await page.goto(`${app.address}/people`);
    await page.getByRole('button', { name: /^Tomas/ }).tap();
    await page.getByText('Nobody’s range is a target').waitFor();
    expect(await page.getByText('never strain to find them').count()).toBe(0);
    await page.getByRole('button', { name: 'the furthest notes too' }).tap();
    await page.getByText('never strain to find them').waitFor();
    const keys = () =>
      page.getByRole('group', { name: /^Keyboard: marks Tomas’s .* note of all$/ });
    // D3 lies above C3, which sits easily.
    await keys().getByRole('button', { name: /^D 3/ }).tap();
    await keys().getByRole('button', { name: /^G 4/ }).tap();
    await page.getByText(/D3 to G4, do not enclose .* C3 to E4\. Nothing was changed/).waitFor();
    expect(await storedRange('Tomas', 'limit')).toBeNull();
    await page.getByRole('radio', { name: /^lowest of all/ }).check();
    await keys().getByRole('button', { name: /^A 2/ }).tap();
    await keys().getByRole('button', { name: /^G 4/ }).tap();
    const furthest = { low: 'A2', high: 'G4' };
    await expect.poll(() => storedRange('Tomas', 'limit')).toEqual(furthest);
    expect(await axeFindings(page)).toEqual([]);
    // A note that sits easily is one that he has.
    const easy = page.getByRole('group', { name: /^Keyboard: marks Tomas’s .* easy note$/ });
    await page.getByRole('radio', { name: /^highest that sits easily/ }).check();
    await easy.getByRole('button', { name: /^A 4/ }).tap();
    await page.getByText('the furthest notes went from A2–G4 to A2–A4').waitFor();
    await expect.poll(() => storedRange('Tomas', 'limit')).toEqual({ low: 'A2', high: 'A4' });
    await page.getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(() => storedRange('Tomas', 'limit')).toEqual(furthest);
    await expect.poll(() => storedRange('Tomas')).toEqual({ low: 'C3', high: 'E4' });
    expect(complaints).toEqual([]);
    await context.close();
  });
});

/**
 * Fundamental of a sound in Hz by the peak of its normalised autocorrelation, with a parabola through the neighbours
 * (the textbook method; Rabiner 1977, IEEE Trans. ASSP 25, 24–33). Looks a third around the expected period only.
 */
function fundamental(samples: readonly number[], rate: number, near: number): number {
  const size = Math.floor(samples.length / 2);
  const at = (lag: number): number => {
    let [product, a, b] = [0, 0, 0];
    for (let i = 0; i < size; i += 1) {
      const [x, y] = [samples[i] ?? 0, samples[i + lag] ?? 0];
      product += x * y;
      a += x * x;
      b += y * y;
    }
    return product / Math.sqrt(a * b || 1);
  };
  // Many periods at once: a peak far out tells the period more exactly.
  const periods = Math.max(1, Math.floor(size / (rate / near) / 2));
  const expected = (periods * rate) / near;
  let best = Math.round(expected);
  const reach = Math.ceil(expected / periods / 3);
  for (let lag = best - reach, found = -1; lag <= expected + reach; lag += 1) {
    const value = at(lag);
    if (value > found) [found, best] = [value, lag];
  }
  const [left, middle, right] = [at(best - 1), at(best), at(best + 1)];
  const shift = (left - right) / (2 * (left - 2 * middle + right) || 1);
  return (periods * rate) / (best + shift);
}

const cents = (hertz: number, wanted: number): number => 1200 * Math.log2(hertz / wanted);

/** Lets the app play into a recording instead of into the air. */
const RECORD = `{
  const Offline = OfflineAudioContext;
  globalThis.AudioContext = class extends Offline {
    constructor() { super(1, 96000, 48000); globalThis.recording = this; }
    resume() { return Promise.resolve(); }
  };
}`;

describe('The drawn keyboard sounds', () => {
  it.each([
    { key: 'A 4', hertz: 440, with: 'recordings' },
    { key: 'C 4', hertz: 261.6256, with: 'recordings' },
    { key: 'B flat 3', hertz: 233.0819, with: 'recordings' },
    { key: 'E 4', hertz: 329.6276, with: 'oscillator' },
    { key: 'A 3', hertz: 220, with: 'oscillator' },
  ])('$key at $hertz Hz within five cents, by its $with (ISO 16: A4 = 440 Hz)', async (row) => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript(RECORD);
    if (row.with === 'oscillator') await page.route('**/samples/*', (route) => route.abort());
    await page.goto(`${app.address}/people`);
    await page.getByRole('button', { name: /^Ruth/ }).click();
    const key = page.getByRole('button', { name: new RegExp(`^${row.key}(,|$)`) });
    if (row.with === 'recordings') {
      // The same key: whatever it sounds by while the recordings come has the same pitch.
      await key.click();
      await page.locator('[data-sound="piano"]').waitFor();
    }
    await key.click();
    const samples = await page.evaluate(async () => {
      const { recording } = globalThis as unknown as { recording: OfflineAudioContext };
      const sound = await recording.startRendering();
      return [...sound.getChannelData(0).slice(14400, 14400 + 16384)];
    });
    expect(Math.max(...samples.map(Math.abs))).toBeGreaterThan(0.005);
    expect(Math.abs(cents(fundamental(samples, 48000, row.hertz), row.hertz))).toBeLessThan(5);
    await context.close();
  });
});
