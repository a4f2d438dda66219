import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, PHONE } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

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

const ruth = () => call(app.address, 'GET', `/members/${planned.people.Ruth}`);
const storedRange = async () => (await ruth())['comfortable'];

async function forgetRange(): Promise<void> {
  const tag = { 'if-match': `"v${String((await ruth())['version'])}"` };
  const nothing = { comfortable: null, limit: null };
  await call(app.address, 'PATCH', `/members/${planned.people.Ruth}`, nothing, tag);
}

/** What has the focus, as it is read out. */
const focused = (page: Page) =>
  page.evaluate(() => {
    const element = document.activeElement;
    return element?.getAttribute('aria-label') ?? element?.textContent?.trim() ?? '';
  });

describe('Ruth, who sings', () => {
  it('marks what sits easily by touch, in four taps, with the cautions in sight, and takes it back', async () => {
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      hasTouch: true,
    });
    await page.goto(app.address + planned.path);
    let taps = 1; // The link itself.
    const tap = async (name: string | RegExp) => {
      await page.getByRole('button', { name }).tap();
      taps += 1;
    };
    await tap(/my comfortable range, Ruth/i);
    await page.getByText('not the furthest you can push').waitFor();
    await page.getByText('stop and rest the voice').waitFor();
    await tap(/^A 3/);
    await tap(/^C 5/);
    await page.getByText('Thank you, Ruth.').waitFor();
    expect(taps).toBe(4);
    expect(await storedRange()).toEqual({ low: 'A3', high: 'C5' });
    await page.getByText('highest that sits easily').tap();
    await tap(/^D 5/);
    await expect.poll(storedRange, { timeout: 10_000 }).toEqual({ low: 'A3', high: 'D5' });
    await page.getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(storedRange, { timeout: 10_000 }).toEqual({ low: 'A3', high: 'C5' });
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('marks both ends with the keyboard alone where nothing was marked, in sixty keystrokes at most: two minutes at one in two seconds', async () => {
    await forgetRange();
    expect(await storedRange()).toBeNull();
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    // No pointer touches this page.
    await page.addInitScript(() => {
      addEventListener('pointerdown', () => console.error('a pointer was used'), true);
    });
    await page.goto(app.address + planned.path);
    await page.getByRole('heading', { name: 'Who are you?' }).waitFor();
    let strokes = 0;
    const press = async (key: string, times = 1) => {
      for (let i = 0; i < times; i += 1) await page.keyboard.press(key);
      strokes += times;
    };
    const tabTo = async (name: RegExp) => {
      for (let i = 0; i < 40; i += 1) {
        await press('Tab');
        if (name.test(await focused(page))) return;
      }
      throw new Error(`Tab never came to ${String(name)}`);
    };
    await tabTo(/my comfortable range, Ruth/i);
    await press('Enter');
    // Where nothing is marked the keyboard is entered where most congregations begin.
    await tabTo(/^A 3/);
    await press('ArrowLeft', 2);
    expect(await focused(page)).toMatch(/^G 3/);
    await press('Enter');
    expect(await storedRange()).toBeNull();
    await page.getByRole('group', { name: /marks Ruth’s highest easy note/ }).waitFor();
    await press('PageUp');
    await press('ArrowRight', 3);
    expect(await focused(page)).toMatch(/^B flat 4|^A sharp 4/);
    await press('Enter');
    await expect.poll(storedRange, { timeout: 10_000 }).toEqual({ low: 'G3', high: 'Bb4' });
    await page.getByText('Thank you, Ruth.').waitFor();
    expect(strokes).toBeLessThanOrEqual(60);
    // It is kept, and not only on this page.
    await page.reload();
    await tabTo(/my comfortable range, Ruth/i);
    await press('Enter');
    await tabTo(/^G 3, lowest/);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('opens her melody with words one tap after the link, with who leads and where she begins', async () => {
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      hasTouch: true,
    });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: /^Ruth/ }).tap();
    const sheet = page.locator('.sheet.open');
    await sheet.locator('.system').first().waitFor({ state: 'attached' });
    expect(await sheet.textContent()).toMatch(/lead voice, for Ruth/);
    expect(await sheet.textContent()).toMatch(/first note: A/);
    expect(await sheet.getByTestId('sheet-key').textContent()).toBe('D major');
    await page.getByTestId('where').tap();
    // A voice reads what sounds: there is nothing to choose.
    expect(await page.getByText('read it in').count()).toBe(0);
    await page.keyboard.press('Escape');
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
