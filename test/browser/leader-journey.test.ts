import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { hymn, LAPTOP, openPage, PHONE, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  watched = await openPage(browser, { viewport: LAPTOP });
  page = watched.page;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** Every click, every field that is filled and every key that is pressed counts one. */
const done: string[] = [];

async function click(target: Locator, what: string): Promise<void> {
  done.push(what);
  await target.click();
}

async function type(field: Locator, text: string): Promise<void> {
  done.push(`type ${text}`);
  await field.fill(text);
}

async function press(key: string): Promise<void> {
  done.push(key);
  await page.keyboard.press(key);
}

async function give(field: Locator, name: string): Promise<void> {
  done.push(`the file ${name}`);
  await field.setInputFiles({ name: `${name}.abc`, mimeType: 'text/vnd.abc', buffer: hymn(name) });
}

const button = (name: string | RegExp) => page.getByRole('button', { name });
const link = (name: string) => page.getByRole('link', { name, exact: true });

/** At most so many (what was asked of this app). */
const MOST = 25;

describe('A leader with an empty book', () => {
  it('brings a hymn in by its file', async () => {
    await page.goto(app.address);
    await page.getByText('Nothing is planned yet').waitFor();
    await click(link('Songs'), 'to the songs');
    await click(link('Put a song in'), 'put a song in');
    await give(page.getByLabel('Choose files'), 'Amazing_Grace-New_Britain');
    await click(button('Keep this song'), 'keep it');
    await page.getByRole('heading', { level: 1, name: 'Amazing Grace' }).waitFor();
  });

  it('adds a singer with her range, and someone at the keys', async () => {
    await click(link('People'), 'to the people');
    await type(page.getByPlaceholder('add a name'), 'Ruth');
    await press('Enter');
    await click(page.getByLabel('lead voice'), 'Ruth leads');
    await click(button(/^A 3/), 'her lowest');
    await click(button(/^C 5/), 'her highest');
    await type(page.getByPlaceholder('add a name'), 'Ines');
    await press('Enter');
    await click(page.getByLabel('keys', { exact: true }), 'Ines plays the keys');
  });

  it('begins Sunday’s order, and asks both of them', async () => {
    await click(link('Services'), 'to the services');
    await click(button('Begin the order'), 'begin');
    await page.getByText('The order is empty').waitFor();
    await click(button('Add Ruth'), 'Ruth serves');
    await click(button('Add Ines'), 'Ines serves');
    await page.getByRole('article').getByText('No bass this week').waitFor();
  });

  it('adds the song, reads why its key is too high, and takes the one that suits', async () => {
    await type(page.getByRole('combobox', { name: 'Add a song' }), 'ama');
    await press('Enter');
    await page.getByText('Ruth: too high').waitFor();
    await click(button('Take F major'), 'in F');
    await page.getByRole('heading', { name: 'Amazing Grace in F major' }).waitFor();
    await page.getByText('This Sunday in F major, down a step from home').waitFor();
  });

  it(`makes the set link: all of it in at most ${MOST} clicks, fields and keys`, async () => {
    await click(button('Make a set link'), 'make the link');
    await page.getByRole('img', { name: 'QR code of the set link' }).waitFor();
    expect(done.length, done.join(' · ')).toBeLessThanOrEqual(MOST);
    expect(watched.complaints).toEqual([]);
  });

  it('finds all of it again: the order is saved, the secret is shown no more', async () => {
    const address = await page.getByLabel('address').inputValue();
    await expect
      .poll(async () => {
        const { services } = (await (await fetch(`${app.address}/api/services`)).json()) as {
          services: { songs: string[]; people: number }[];
        };
        return services.map(({ songs, people }) => [songs, people]);
      })
      .toEqual([[['Amazing Grace'], 2]]);
    const theirs = await openPage(browser, { viewport: PHONE, hasTouch: true });
    await theirs.page.goto(address);
    await theirs.page.getByText('Ruth').first().waitFor();
    expect(theirs.page.url(), 'the secret leaves the address').not.toContain('#');
    expect(theirs.complaints).toEqual([]);
    await theirs.context.close();
    await page.reload();
    await page.getByText('set links of this service').waitFor();
    expect(await page.getByLabel('address').count()).toBe(0);
  });

  it('takes the link back, and opens it again by Undo', async () => {
    await click(button('take it back'), 'take it back');
    await page.getByText('Taken back: it opens nothing', { exact: true }).waitFor();
    await button('Undo').click();
    await page.getByText(/Open until/).waitFor();
  });
});

describe('The order of a service by keyboard', () => {
  const lines = () =>
    page.locator('ol[aria-label="Order of service"] > li .name').allTextContents();
  const order = async () => (await lines()).map((line) => line.trim().split(/\s+/)[0]);

  it('is moved by Alt with the arrows, said aloud, and taken back by Ctrl+Z', async () => {
    await button('Add: reading').click();
    await expect.poll(order).toEqual(['Amazing', '☞']);
    const reading = page.locator('.name').filter({ hasText: 'reading' });
    await reading.focus();
    await page.keyboard.press('Alt+ArrowUp');
    await expect.poll(order).toEqual(['☞', 'Amazing']);
    await page.getByRole('status').filter({ hasText: 'Reading: line 1 of 2.' }).waitFor();
    expect(await reading.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('Control+z');
    await expect.poll(order).toEqual(['Amazing', '☞']);
    await page.keyboard.press('Control+z');
    await expect.poll(order).toEqual(['Amazing']);
  });

  it('is moved by dragging its handle, too', async () => {
    await button('Add: prayer').click();
    await expect.poll(order).toEqual(['Amazing', '☞']);
    const [from, to] = [
      await page.getByRole('button', { name: /^Move Prayer: drag/ }).boundingBox(),
      await page.getByRole('button', { name: /^Move Amazing Grace: drag/ }).boundingBox(),
    ];
    if (!from || !to) throw new Error('both lines have a handle');
    await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
    await page.mouse.down();
    await page.mouse.move(from.x + 20, from.y - 10, { steps: 6 });
    await page.mouse.move(to.x + to.width / 2, to.y + 4, { steps: 12 });
    await page.waitForTimeout(300);
    await page.mouse.up();
    await expect.poll(order).toEqual(['☞', 'Amazing']);
    expect(watched.complaints).toEqual([]);
  });
});
