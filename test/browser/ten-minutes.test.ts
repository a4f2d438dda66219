import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Member } from '#server/contract/members.ts';
import type { Service, ServiceList } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, PHONE, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let service: string;
let members: readonly Member[];

const get = async <T>(path: string): Promise<T> =>
  (await (await fetch(`${app.address}/api${path}`)).json()) as T;

/** The demo’s service with a bass: five hymns, six people. */
beforeAll(async () => {
  [app, browser] = await Promise.all([startApp('demo'), launchChromium()]);
  members = (await get<{ members: Member[] }>('/members')).members;
  const dora = idOf('Dora');
  const { services } = await get<ServiceList>('/services');
  for (const { id } of services) {
    const { people } = await get<Service>(`/services/${id}`);
    if (people.some(({ member }) => member === dora)) service = id;
  }
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const idOf = (name: string) => members.find((member) => member.name === name)?.id ?? '';
const stored = () => get<Service>(`/services/${service}`);
const namesIn = ({ people }: Service) =>
  people.map(({ member }) => members.find(({ id }) => id === member)?.name);
/** A request that finds no network stands in the console of every browser. */
const EXPECTED = [/ERR_INTERNET_DISCONNECTED/];

const panel = (page: Page) => page.getByRole('region', { name: 'ten minutes before' });
const happened = (page: Page, name: string, what: string) =>
  panel(page)
    .getByRole('group', { name: `What happened to ${name}` })
    .getByRole('button', { name: what });
const told = (page: Page) =>
  page.locator('section[data-state="told"]').waitFor({ timeout: 30_000 });

/** The service is open, everything that is needed without a network is here, and the network is gone. */
async function offlineAt(page: Page, context: BrowserContext): Promise<void> {
  await page.goto(`${app.address}/services/${service}`);
  await page.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
  await page.getByRole('button', { name: 'Somebody is missing' }).waitFor();
  await page.waitForLoadState('networkidle');
  await expect
    .poll(() =>
      page.evaluate(async () => {
        const names = (await caches.keys()).filter((name) => name.includes('precache'));
        const files = await Promise.all(
          names.map(async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url)),
        );
        return files.flat().some((url) => url.includes('plan.worker'));
      }),
    )
    .toBe(true);
  await context.setOffline(true);
}

describe('Ten minutes before, without a network', () => {
  it('one tap plans the service anew and names the bars, by keyboard too', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET }, EXPECTED);
    await offlineAt(page, context);
    await page.getByRole('button', { name: 'Somebody is missing' }).focus();
    await page.keyboard.press('Enter');
    await happened(page, 'Dora', 'cannot come').focus();
    await page.keyboard.press('Space');
    await told(page);
    const songs = panel(page).getByRole('list', { name: 'Song by song' });
    const words = await songs.innerText();
    expect(words).toMatch(/Joel’s left hand, bars? \d/);
    // Who leads is there: no key and no lead is touched.
    expect(words).not.toContain('→');
    expect(await panel(page).getByRole('list', { name: 'What to tell them' }).innerText()).toMatch(
      /Joel: \w+ bars differ; the rest stays under your hands\.[^]*Nothing changes for Ada, Elias and Tomas\./,
    );
    expect(await axeFindings(page)).toEqual([]);
    expect(namesIn(await stored())).toContain('Dora');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is taken in one step, outlives the tab, and is sent when the network is back', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET }, EXPECTED);
    const before = await stored();
    await offlineAt(page, context);
    await page.getByRole('button', { name: 'Somebody is missing' }).click();
    await happened(page, 'Ada', 'cannot come').click();
    await told(page);
    await panel(page).getByRole('button', { name: 'Take it all' }).click();
    await panel(page).getByText('So the service stands now.').waitFor();
    await page.getByText('kept on this device and sent when the network is back').waitFor();
    // The tab is killed and opened again, still without a network.
    await page.close();
    const again = await context.newPage();
    await again.goto(`${app.address}/services/${service}`);
    await again.getByText('kept on this device and sent when the network is back').waitFor();
    const people = again.getByRole('region', { name: 'people of the week' });
    expect((await people.getByRole('listitem').allInnerTexts()).join(' ')).not.toMatch(/Ada/);
    expect(namesIn(await stored())).toContain('Ada');
    await context.setOffline(false);
    await expect
      .poll(async () => namesIn(await stored()), { timeout: 30_000 })
      .not.toContain('Ada');
    await again.getByText('kept on this device').waitFor({ state: 'hidden' });
    const now = await stored();
    expect(now.items.map(({ id }) => id)).toEqual(before.items.map(({ id }) => id));
    expect(complaints).toEqual([]);
    await context.close();
    await put(before);
  });

  it('is taken and taken back with a network, on a telephone', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    const before = await stored();
    await page.goto(`${app.address}/services/${service}`);
    await page.getByRole('button', { name: 'Somebody is missing' }).click();
    await happened(page, 'Ada', 'other voice').click();
    for (let i = 0; i < 4; i += 1) {
      await panel(page)
        .getByRole('button', { name: 'Ada: highest easy note a step lower' })
        .click();
    }
    await told(page);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(PHONE.width);
    await panel(page).getByRole('button', { name: 'Take it all' }).click();
    await expect
      .poll(async () => (await stored()).people.find(({ member }) => member === idOf('Ada'))?.voice)
      .toEqual({ low: 'A3', high: 'F4' });
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect
      .poll(async () => {
        const { people, items } = await stored();
        return { people, items };
      })
      .toEqual({ people: before.people, items: before.items });
    // What was taken back is said no longer, and nothing offers to take it again.
    expect(await happened(page, 'Ada', 'other voice').getAttribute('aria-pressed')).toBe('false');
    expect(await panel(page).getByRole('button', { name: 'Take it all' }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('stands on the stand of who had other bars there, in rubric', async () => {
    const before = await stored();
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const open = async () => {
      await page.goto(`${app.address}/services/${service}/people/${idOf('Joel')}`);
      await page.getByTestId('where').waitFor();
    };
    const isKept = () =>
      page.evaluate(async () =>
        (await (await caches.open('partbook-answers')).keys()).some(({ url }) =>
          url.includes('/parts'),
        ),
      );
    await open();
    await expect.poll(isKept, { timeout: 30_000 }).toBe(true);
    const people = before.people.filter(({ member }) => member !== idOf('Dora'));
    await put({ ...before, people });
    await open();
    const said = page
      .getByText(/Changed since it was last here: Joel’s left hand, bars? \d/)
      .first();
    await said.waitFor({ state: 'attached', timeout: 30_000 });
    // It stands at the head of its own song, some leaves on.
    for (let leaf = 0; leaf < 12 && !(await said.isVisible()); leaf += 1) {
      await page.keyboard.press('ArrowRight');
      await page.waitForTimeout(300);
    }
    expect(await said.isVisible()).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
    await put(before);
  });

  it('weighs keys, leads and order together here too', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET }, EXPECTED);
    await offlineAt(page, context);
    const best = page.getByRole('region', { name: 'keys, leads and order together' });
    await best.getByRole('button', { name: 'Weigh them together' }).click();
    await best.getByText('Proved: no other choice').waitFor({ timeout: 60_000 });
    await best.getByText('Worked out on this device').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

/** Puts order and people back for the next test. */
async function put({ items, people }: Service): Promise<void> {
  const { version } = await stored();
  await fetch(`${app.address}/api/services/${service}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json', 'if-match': `"v${version}"` },
    body: JSON.stringify({ items, people }),
  });
}
