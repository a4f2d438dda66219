import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Service, ServiceItem } from '#server/contract/services.ts';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, LAPTOP, openPage, PHONE, TABLET } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

vi.setConfig({ testTimeout: 60_000 });

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

async function itemOf(id: string): Promise<ServiceItem> {
  const service = (await call(app.address, 'GET', `/services/${planned.service}`)) as unknown as Service; // prettier-ignore
  const item = service.items.find((each) => each.id === id);
  if (!item) throw new Error(`the order has no ${id}`);
  return item;
}

async function openLine(page: Page, name: RegExp): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}`);
  const order = page.getByRole('list', { name: 'Order of service' });
  await order.locator('.name', { hasText: name }).click();
  await page.getByRole('slider').first().waitFor();
}

describe('How hard a song is for somebody', () => {
  it('is said with its places when the page is open, and follows a step at once', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: LAPTOP });
    await openLine(page, /Amazing Grace/);
    await page.getByText(/^For Ines it is easy; what asks most: bar \d+/).waitFor();
    const right = page.getByRole('group', { name: 'right hand of Ines' });
    await right.getByRole('radio', { name: /^1:/ }).focus();
    for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
    await page.getByText(/^For Ines it (takes practice|is hard): .*bar \d+.*; /).waitFor();
    for (let i = 0; i < 3; i += 1) await undo(page);
    await page.getByText(/^For Ines it is easy;/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('What a bass player plays of one song', () => {
  it('goes up a step and is otherwise in a section; the sheet follows, and Undo takes it back', async () => {
    const service = `/services/${planned.service}`;
    const noor = (await call(app.address, 'POST', '/members', { name: 'Noor', roles: ['bass'] }))['id'] as string; // prettier-ignore
    const before = (await call(app.address, 'GET', service)) as unknown as Service;
    const people = [...before.people, { member: noor, roles: ['bass'] }];
    await call(app.address, 'PATCH', service, { people }, { 'if-match': `"v${before.version}"` });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const stand = await openPage(browser, { viewport: PHONE });
    const open = async (words: RegExp) => {
      await stand.page.goto(`${app.address}${service}/people/${noor}`);
      await stand.page.getByText(words).first().waitFor();
    };
    const rungs = async () => (await itemOf('grace')).rungs[noor];
    await open(/bass, first rung, for Noor/);
    await openLine(page, /Amazing Grace/);
    const ladder = page.getByRole('group', { name: 'bass of Noor' });
    await ladder.getByRole('radio', { name: /^1:/ }).focus();
    await page.keyboard.press('ArrowRight');
    await ladder.getByText('with fifths, and a step into the next chord').waitFor();
    await expect.poll(rungs, eventually).toEqual({ bass: 2 });
    await open(/bass, second rung, for Noor/);
    await page.getByRole('combobox', { name: 'Noor: a section otherwise' }).selectOption({ index: 1 }); // prettier-ignore
    await page.getByRole('combobox', { name: /^Noor in .*: bass$/ }).selectOption('1');
    await expect
      .poll(async () => Object.values((await rungs())?.sections ?? {}), eventually)
      .toEqual([{ bass: 1 }]);
    expect(await axeFindings(page)).toEqual([]);
    for (let i = 0; i < 2; i += 1) await undo(page);
    await expect.poll(rungs, eventually).toBeUndefined();
    await open(/bass, first rung, for Noor/);
    expect([...complaints, ...stand.complaints]).toEqual([]);
    await stand.context.close();
    await context.close();
  });
});

describe('Taking the bass out of a service', () => {
  it('has the bars named that change at the keys, until it is taken back', async () => {
    const service = `/services/${planned.service}`;
    const dag = (await call(app.address, 'POST', '/members', { name: 'Dag', roles: ['bass'] }))['id'] as string; // prettier-ignore
    const before = (await call(app.address, 'GET', service)) as unknown as Service;
    const others = before.people.filter(({ roles }) => !roles.includes('bass'));
    const put = async (people: object) => {
      const { version } = (await call(app.address, 'GET', service)) as unknown as Service;
      await call(app.address, 'PATCH', service, { people }, { 'if-match': `"v${version}"` });
    };
    await put([...others, { member: dag, roles: ['bass'] }]);
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}${service}`);
    await page.getByRole('button', { name: 'roles and voice of Dag' }).click();
    await page.getByRole('button', { name: 'Dag does not serve this week' }).click();
    await page.getByText('Without a bass, at the keys:').waitFor();
    // In D, read in C, all roots of the first hymn lie where a bass leaves them.
    await page.getByText(/Amazing Grace: nothing changes\./).waitFor();
    await page.getByText(/Emmanuel: Ines’s left hand, .*bars \d+.*\d\./).waitFor();
    await page.getByText('the left hand at the keys has the low notes').first().waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await undo(page);
    await page.getByText('Without a bass, at the keys:').waitFor({ state: 'detached' });
    expect(complaints).toEqual([]);
    await context.close();
    await put(others);
  });
});

describe('Parts as files', () => {
  /** What a link has the browser fetch: its type. */
  async function fetched(link: Locator): Promise<string> {
    const response = await fetch(`${app.address}${await link.getAttribute('href')}`);
    expect(response.status).toBe(200);
    return response.headers.get('content-type') ?? '';
  }

  it('are taken out from the sheet, from the pages of a person and from the service', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    const song = (await itemOf('grace')).song;
    await page.goto(`${app.address}/songs/${song}/sheet`);
    await page.getByRole('button', { name: 'files' }).click();
    const out = page.getByRole('dialog', { name: 'Take this part out' });
    expect(await fetched(out.getByRole('link', { name: 'MusicXML', exact: true }))).toContain('musicxml+xml'); // prettier-ignore
    expect(await fetched(out.getByRole('link', { name: 'MIDI', exact: true }))).toBe('audio/midi');
    expect(await axeFindings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await out.waitFor({ state: 'detached' });
    expect(page.url(), 'Escape closes what is open, not the sheet').toContain('/sheet');
    await page.goto(`${app.address}/services/${planned.service}/people/${planned.people.Ines}`);
    await page.getByTestId('where').click();
    const tray = page.getByRole('dialog', { name: 'Songs and settings' });
    const all = tray.getByRole('link', { name: 'MusicXML and MIDI' });
    expect(await fetched(all)).toBe('application/zip');
    await page.goto(`${app.address}/services/${planned.service}`);
    const packets = page.getByRole('region', { name: 'everyone’s packets, on paper' });
    expect(await fetched(packets.getByRole('link', { name: 'Ines' }))).toBe('application/zip');
    // Joel plays the guitar by the words: he has no notes.
    expect(await packets.getByRole('link', { name: 'Joel' }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
