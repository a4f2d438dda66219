import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Service, ServiceItem } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

vi.setConfig({ testTimeout: 90_000 });

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

const eventually = { timeout: 15_000, interval: 100 };
const undo = (page: Page) => page.getByRole('button', { name: 'Undo' }).click();

/** Half steps that each pass of Silent Night is raised in the service; null: as usual. */
async function raised(): Promise<number[] | null> {
  const service = (await call(app.address, 'GET', `/services/${planned.service}`)) as unknown as Service; // prettier-ignore
  const item = service.items.find(({ id }): boolean => id === 'night') as ServiceItem | undefined;
  return item?.form?.map(({ up }) => up ?? 0) ?? null;
}

async function openLine(page: Page): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}`);
  const order = page.getByRole('list', { name: 'Order of service' });
  await order.locator('.name', { hasText: /Silent Night/ }).click();
  await page.getByRole('heading', { name: /^the passes, how each/ }).waitFor();
}

/** Turns somebody's pages until the words are seen, twenty pages at most. */
async function turnsTo(
  page: Page,
  name: 'Ines' | 'Joel' | 'Ruth',
  words: RegExp,
): Promise<boolean> {
  await page.goto(`${app.address}/services/${planned.service}/people/${planned.people[name]}`);
  await page.getByText(/Amazing Grace/).first().waitFor(); // prettier-ignore
  const found = page.getByText(words).first();
  for (let i = 0; i < 20 && !(await found.isVisible()); i += 1) {
    await page.keyboard.press('PageDown');
    await page.waitForTimeout(150);
  }
  return found.isVisible();
}

describe('A last verse in a higher key', () => {
  it('is chosen by keyboard, stands on the sheets of players and singers, and is taken back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    const stand = await openPage(browser, { viewport: TABLET });
    await openLine(page);
    const keys = page.getByRole('combobox', { name: /: in which key$/ });
    const count = await keys.count();
    expect(count).toBeGreaterThan(2);
    const last = keys.last();
    expect(await last.locator('option').allTextContents()).toEqual(
      expect.arrayContaining(['in B♭', 'B, up a half step', 'C, up a whole step']),
    );
    await last.focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await expect.poll(async () => (await raised())?.at(-1), eventually).toBe(2);
    expect(await last.evaluate((field) => (field as HTMLSelectElement).value)).toBe('2');
    const step = /straight up a whole step, into C major/;
    expect(await turnsTo(stand.page, 'Ines', step)).toBe(true);
    await stand.page.getByText(/verse \d+, in c major/i).first().waitFor(); // prettier-ignore
    expect(await turnsTo(stand.page, 'Ruth', /into C major; begin on G/)).toBe(true);
    // By chords: the same verse over its words, in the new key.
    expect(await turnsTo(stand.page, 'Joel', step)).toBe(true);
    expect(await axeFindings(page)).toEqual([]);
    const unison = page.getByRole('button', { name: /: unison, everybody sings the tune$/ }).last();
    await unison.click();
    await expect.poll(() => unison.getAttribute('aria-pressed'), eventually).toBe('true');
    for (let i = 0; i < 3; i += 1) await undo(page);
    await expect.poll(raised, eventually).toBeNull();
    expect([...complaints, ...stand.complaints]).toEqual([]);
    await stand.context.close();
    await context.close();
  });

  it('is chosen on a phone, with room for a thumb', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE, hasTouch: true }); // prettier-ignore
    await openLine(page);
    const last = page.getByRole('combobox', { name: /: in which key$/ }).last();
    await last.selectOption('1');
    await expect.poll(async () => (await raised())?.at(-1), eventually).toBe(1);
    const box = await last.boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(44);
    expect((box?.x ?? 0) + (box?.width ?? 999)).toBeLessThanOrEqual(PHONE.width);
    expect(await axeFindings(page)).toEqual([]);
    await undo(page);
    await expect.poll(raised, eventually).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });
});
