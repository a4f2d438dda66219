import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, LAPTOP, openPage, PHONE } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

/** A team that has just begun, one in the middle of its work, and one with a passphrase. */
let fresh: RunningApp;
let team: RunningApp;
let locked: RunningApp;
let browser: Browser;
let planned: PlannedService;
let empty = '';
const links = { ended: '', revoked: '' };

const PASSPHRASE = 'the hill is green in spring';
/** The browser writes each refusal to its console; some of these states are one. */
const REFUSED = [/status of 4\d\d/];

/** Chords over words (invented); its sixth line is a word and a chord, as one likes. */
const DOUBTFUL = [
  'The Evening Lamp',
  '',
  'Verse 1',
  'G        C     G',
  'A lamp in the window',
  'Go',
  'out to the light',
].join('\n');

const make = async (path: string, body: object): Promise<string> =>
  (await call(team.address, 'POST', path, body))['id'] as string;

async function makeLink(change: object): Promise<string> {
  const made = await call(team.address, 'POST', `/services/${planned.service}/links`, {});
  const { id } = made['link'] as { id: string };
  await call(team.address, 'PATCH', `/links/${id}`, change, { 'if-match': '"v1"' });
  return made['path'] as string;
}

beforeAll(async () => {
  [fresh, team, locked, browser] = await Promise.all([
    startApp(),
    startApp(),
    startApp(),
    launchChromium(),
  ]);
  planned = await planService(team.address);
  const of = { date: '2036-11-30', time: '10:30', zone: 'Europe/Berlin' };
  empty = await make('/services', { title: 'A morning not planned yet', ...of });
  const gone = await make('/services', { title: 'A morning called off', ...of });
  await fetch(`${team.address}/api/services/${gone}`, {
    method: 'DELETE',
    headers: { 'if-match': '"v1"' },
  });
  links.ended = await makeLink({ endsAt: '2026-01-01T00:00:00Z' });
  links.revoked = await makeLink({ revoked: true });
  await call(locked.address, 'PUT', '/access/passphrase', { passphrase: PASSPHRASE });
});

afterAll(async () => {
  await browser?.close();
  await Promise.all([fresh?.stop(), team?.stop(), locked?.stop()]);
});

interface State {
  readonly name: string;
  readonly app: () => RunningApp;
  readonly path: () => string;
  /** Brings the opened page into the state and waits until it stands. */
  readonly reach: (page: Page) => Promise<unknown>;
}

const ofTeam = (path: () => string) => ({ app: () => team, path });
const theService = ofTeam(() => `/services/${planned.service}`);
const heading = (page: Page, name: string) => page.getByRole('heading', { name }).waitFor();
const inOrder = (page: Page, name: RegExp) =>
  page.getByRole('list', { name: 'Order of service' }).locator('.name', { hasText: name });

const STATES: readonly State[] = [
  {
    name: 'the services of a team without any',
    app: () => fresh,
    path: () => '/',
    reach: (page) => page.getByText('Nothing is planned yet.').waitFor(),
  },
  {
    name: 'a service with nothing in its order',
    ...ofTeam(() => `/services/${empty}`),
    reach: (page) => page.getByText('The order is empty.').waitFor(),
  },
  {
    name: 'the deleted services, unfolded',
    ...ofTeam(() => '/'),
    reach: async (page) => {
      await page.getByText(/^deleted services/).click();
      await page.getByRole('button', { name: 'bring A morning called off back' }).waitFor();
    },
  },
  {
    name: 'a set link that has ended',
    ...ofTeam(() => links.ended),
    reach: (page) => heading(page, 'This link has ended'),
  },
  {
    name: 'a set link that was taken back',
    ...ofTeam(() => links.revoked),
    reach: (page) => heading(page, 'This link was taken back'),
  },
  {
    name: 'a set link with a wrong secret',
    ...ofTeam(() => `/s/${planned.link}#${'x'.repeat(43)}`),
    reach: (page) => heading(page, 'This link does not open'),
  },
  {
    name: 'the list of songs and settings on the stand',
    ...ofTeam(() => `/services/${planned.service}/people/${planned.people.Ines}`),
    reach: async (page) => {
      await page.getByTestId('where').click();
      await page.getByRole('dialog').waitFor();
    },
  },
  {
    name: 'words with chords, a line in doubt',
    ...ofTeam(() => '/songs/new'),
    reach: async (page) => {
      await page.locator('textarea').fill(DOUBTFUL);
      await page.getByRole('button', { name: 'Line 6: words, in doubt; change' }).waitFor();
    },
  },
  {
    name: 'the side page of a song',
    ...theService,
    reach: async (page) => {
      await inOrder(page, /Amazing Grace/).click();
      await page.getByRole('heading', { level: 2, name: /^Amazing Grace/ }).waitFor();
      await page.locator('.side figure svg').first().waitFor();
    },
  },
  {
    name: 'the side page of a talk',
    ...theService,
    reach: async (page) => {
      await inOrder(page, /Waiting/).click();
      await page.getByLabel('what it is').waitFor();
    },
  },
  {
    name: 'a set link just made, with its QR code',
    ...theService,
    reach: async (page) => {
      await page.getByRole('button', { name: /^Make (a|another) set link/ }).click();
      await page.getByRole('img', { name: 'QR code of the set link' }).waitFor();
    },
  },
  {
    name: 'the door with a passphrase',
    app: () => locked,
    path: () => '/people',
    reach: (page) => heading(page, 'The leader’s side'),
  },
  {
    name: 'the door after a wrong passphrase',
    app: () => locked,
    path: () => '/people',
    reach: async (page) => {
      await page.getByLabel('passphrase').fill('the hill is brown');
      await page.keyboard.press('Enter');
      await page.getByRole('alert').waitFor();
    },
  },
  {
    name: 'the team with a passphrase set',
    app: () => locked,
    path: () => '/team',
    reach: async (page) => {
      await page.getByLabel('passphrase').fill(PASSPHRASE);
      await page.keyboard.press('Enter');
      await page.getByText('Whoever knows the passphrase').waitFor();
    },
  },
];

describe.each([
  ['phone', PHONE],
  ['laptop', LAPTOP],
] as const)('On a %s', (_, viewport) => {
  it.each(STATES)('$name: open to everyone, light and dark (axe, WCAG 2.2 AA)', async (state) => {
    for (const colorScheme of ['light', 'dark'] as const) {
      // A visitor of its own each time, so that no cookie of the first opens what the second asks for.
      const options = { viewport, colorScheme };
      const { page, context, complaints } = await openPage(browser, options, REFUSED);
      await page.goto(state.app().address + state.path());
      await state.reach(page);
      expect(await axeFindings(page), colorScheme).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, 'nothing sticks out to the side').toBeLessThanOrEqual(0);
      expect(complaints).toEqual([]);
      await context.close();
    }
  });
});
