import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, PHONE, TABLET } from './support/pages.ts';
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

/** A request that finds no network, and an answer that refuses, stand in the console of every browser. */
const EXPECTED = [/ERR_INTERNET_DISCONNECTED/, /status of 4\d\d/];
const text = (page: Page) => page.locator('body').innerText();

/** All sheets of a person are engraved, on whatever machine this is. */
const LATER = { timeout: 15_000 };

/** What the foot of the stand says of where the pages come from. */
const sayOf = async (page: Page) =>
  ((await page.getByTestId('from-device').textContent()) ?? '').trim().replaceAll(/\s+/g, ' ');

/** What this device holds by now: the app's own files, the engraver, the parts of the person. */
function heldHere(page: Page): Promise<{ app: number; engraver: number; answers: string[] }> {
  return page.evaluate(async () => {
    const urls = async (name: string) =>
      (await (await caches.open(name)).keys()).map(({ url }) => url.replace(location.origin, ''));
    const names = (await caches.keys()).filter((name) => name.includes('precache'));
    const own = await Promise.all(names.map(urls));
    const [engraver, answers] = [await urls('engraver'), await urls('partbook-answers')];
    return { app: own.flat().length, engraver: engraver.length, answers: answers.sort() };
  });
}

/** Opens the pages of somebody by the set link, and waits until everything is here that is needed without a network. */
async function stood(
  page: Page,
  name: 'Ines' | 'Ruth',
  { path, link, people }: PlannedService,
): Promise<void> {
  await page.goto(app.address + path);
  await page.getByRole('button', { name: new RegExp(`^${name}`) }).click();
  await page.getByTestId('where').waitFor();
  await expect
    .poll(
      async () => {
        const { app: files, engraver, answers } = await heldHere(page);
        return [files > 50, engraver, answers.some((each) => each.includes('/parts'))];
      },
      { timeout: 30_000 },
    )
    .toEqual([true, 1, true]);
  const { answers } = await heldHere(page);
  expect(answers.every((each) => each.startsWith(`/api/set/${link}`))).toBe(true);
  expect(answers.some((each) => each.includes(people[name]))).toBe(true);
  await page.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
}

/** How many bars all sheets have as drawings, the widths of the drawings in CSS px, and the drawings themselves. */
function drawn(page: Page): Promise<{ bars: number; widths: number[]; drawings: string }> {
  return page.evaluate(() => {
    const drawings = [...document.querySelectorAll('.sheet[data-kind="staff"] svg')].filter(
      (svg) => svg.querySelector('.measure') !== null,
    );
    const bars = drawings.reduce((sum, svg) => sum + svg.querySelectorAll('.measure').length, 0);
    const widths = drawings.map((svg) => Math.round(svg.getBoundingClientRect().width));
    return { bars, widths, drawings: drawings.map((svg) => svg.outerHTML).join('') };
  });
}

async function larger(page: Page): Promise<void> {
  await page.getByTestId('where').click();
  await page.getByRole('button', { name: 'larger' }).click();
  await page.keyboard.press('Escape');
}

const offline = (context: BrowserContext, is: boolean) => context.setOffline(is);

describe('The stand without a network', () => {
  it('engraves anew for another size of words and another width, with every bar, and asks nobody', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET }, EXPECTED);
    await stood(page, 'Ines', planned);
    const before = await drawn(page);
    expect(before.bars).toBeGreaterThan(30);
    await offline(context, true);
    await page.getByTestId('from-device').getByText('no network').waitFor();
    await larger(page);
    await expect
      .poll(async () => (await drawn(page)).drawings === before.drawings, LATER)
      .toBe(false);
    expect((await drawn(page)).bars).toBe(before.bars);
    await page.setViewportSize({ width: 820, height: 1180 });
    await expect.poll(async () => Math.max(...(await drawn(page)).widths), LATER).toBeLessThan(820);
    expect((await drawn(page)).bars).toBe(before.bars);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('with a network asks the server for the pages once, and engraves the next size here', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const asked: string[] = [];
    page.on('request', (request) => {
      if (/\/pages\/[^/?]+(\?|$)/.test(request.url())) asked.push(request.url());
    });
    await stood(page, 'Ruth', planned);
    const before = await drawn(page);
    await larger(page);
    await expect
      .poll(async () => (await drawn(page)).drawings === before.drawings, LATER)
      .toBe(false);
    expect((await drawn(page)).bars).toBe(before.bars);
    expect(asked).toHaveLength(1);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('opens again, by a reload, by its own address and by the link, in the size that was chosen', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE }, EXPECTED);
    await stood(page, 'Ines', planned);
    const { bars } = await drawn(page);
    await offline(context, true);
    await page.reload();
    await page.getByTestId('where').waitFor();
    expect((await drawn(page)).bars).toBe(bars);
    expect(await sayOf(page)).toMatch(/^as it was at \d\d:\d\d; no (network|answer) now$/);
    await larger(page);
    const again = await context.newPage();
    await again.goto(`${app.address}/s/${planned.link}/${planned.people.Ines}`);
    await again.getByTestId('where').waitFor();
    expect((await drawn(again)).bars).toBe(bars);
    await again.goto(`${app.address}/s/${planned.link}`);
    await again.getByRole('heading', { name: 'First Sunday of Advent' }).waitFor();
    expect(await text(again)).toMatch(/this is as it was at \d\d:\d\d/);
    expect(await axeFindings(again)).toEqual([]);
    // Whoever was not looked at stands not here.
    await again.goto(`${app.address}/s/${planned.link}/${planned.people.Joel}`);
    await again.getByRole('heading', { name: 'The pages did not come' }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('keeps nothing of a link that was taken back, and says so as soon as there is a network', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE }, EXPECTED);
    const made = await call(app.address, 'POST', `/services/${planned.service}/links`, {});
    const { id } = made['link'] as { id: string };
    await stood(page, 'Ines', { ...planned, path: made['path'] as string, link: id });
    await offline(context, true);
    await page.reload();
    await page.getByTestId('where').waitFor();
    const headers = { 'if-match': '"v1"' };
    await call(app.address, 'PATCH', `/links/${id}`, { revoked: true }, headers);
    await offline(context, false);
    await page.getByRole('alert').waitFor();
    expect(await text(page)).toMatch(/taken back/i);
    expect(await text(page)).not.toMatch(/Amazing|Silent|Ines/);
    expect((await heldHere(page)).answers).toEqual([]);
    await offline(context, true);
    await page.reload();
    await page.getByRole('alert').waitFor();
    expect(await text(page)).not.toMatch(/Amazing|Silent|Ines/);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('keeps nothing of a link that was forgotten on this device', async () => {
    const { page, context } = await openPage(browser, { viewport: PHONE });
    await stood(page, 'Ruth', planned);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'forget this link' }).click();
    await page.getByText('Forgotten on this device').waitFor();
    expect((await heldHere(page)).answers).toEqual([]);
    await context.close();
  });
});

describe('What a telephone fetches', () => {
  it('is not the engraver before it is at rest, and never where it saves data', async () => {
    const { page, context } = await openPage(browser, { viewport: PHONE });
    await page.addInitScript(() => {
      Object.defineProperty(navigator, 'connection', { value: { saveData: true } });
    });
    const asked: string[] = [];
    context.on('request', (request) => asked.push(new URL(request.url()).pathname));
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: /^Ines/ }).click();
    await page.getByTestId('where').waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
    await page.waitForTimeout(6000);
    expect(asked.filter((path) => /engraver\.worker|\/parts$|\.mp3$/.test(path))).toEqual([]);
    expect((await heldHere(page)).engraver).toBe(0);
    await context.close();
  });
});
