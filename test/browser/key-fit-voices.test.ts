import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, hymn, LAPTOP, openPage, PHONE } from './support/pages.ts';
import { call } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let song = '';

/** Blessed Assurance has a verse and a refrain; Ruth and Tomas are invented. */
beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  const make = async (path: string, body: object) =>
    (await call(app.address, 'POST', path, body))['id'] as string;
  const bytes = hymn('Blessed_Assurance-Blessed_Assurance-Assurance').toString('base64');
  song = await make('/songs', { format: 'abc', bytes, tune: 0 });
  const ruth = await make('/members', {
    name: 'Ruth',
    roles: ['lead voice'],
    comfortable: { low: 'A3', high: 'C5' },
  });
  const tomas = await make('/members', {
    name: 'Tomas',
    roles: ['harmony voice'],
    comfortable: { low: 'A2', high: 'D4' },
  });
  const arrangement = await call(app.address, 'GET', `/songs/${song}/arrangement`);
  const { score } = (await call(app.address, 'GET', `/songs/${song}`)) as unknown as {
    score: { sections: { id: string }[] };
  };
  const [verse, refrain] = score.sections.map(({ id }) => id);
  await call(
    app.address,
    'PATCH',
    `/songs/${song}/arrangement`,
    {
      key: { tonic: 'C', mode: 'major' },
      lead: ruth,
      singers: [ruth, tomas],
      form: [
        { section: verse, verse: 1 },
        { section: refrain, verse: null },
        { section: verse, verse: 2, up: 2 },
        { section: refrain, verse: null, up: 2 },
      ],
    },
    { 'if-match': `"v${String(arrangement['version'])}"` },
  );
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const open = async (viewport: typeof PHONE | typeof LAPTOP) => {
  const watched = await openPage(browser, { viewport });
  await watched.page.goto(`${app.address}/songs/${song}`);
  await watched.page.getByRole('heading', { name: 'In C major' }).waitFor();
  return watched;
};
const asked = (page: Page, name: string) =>
  page.locator('details').filter({ hasText: `What it asks of ${name}` });

describe('How a song fits its singers', () => {
  it('unfolds one singer at a time: a verse against the voice, sentences with bars, figures', async () => {
    const { page, context, complaints } = await open(LAPTOP);
    await page.getByText('What it asks of Ruth').click();
    const ruth = asked(page, 'Ruth');
    await ruth.getByText(/^The biggest leap is a fifth up, C4 to G4, into bar 1/).waitFor();
    await ruth.getByText(/^The longest breath: .*bar.* seconds at dotted quarter/).waitFor();
    expect(await ruth.locator('figure svg').count()).toBeGreaterThan(0);
    await ruth.getByRole('rowheader', { name: 'time outside' }).waitFor();
    await page.getByText('What it asks of Tomas').click();
    await asked(page, 'Tomas').getByText('Tomas sings an octave below.').waitFor();
    expect(await ruth.locator('figure').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('takes one section in another octave, and says so', async () => {
    const { page, context, complaints } = await open(PHONE);
    await page.getByText('What it asks of Tomas').click();
    const tomas = asked(page, 'Tomas');
    await tomas.getByLabel('Octave of Tomas, Verse').selectOption('as written');
    await tomas.getByText('Tomas sings the refrain an octave below.').waitFor();
    await tomas.getByLabel('Octave of Tomas', { exact: true }).selectOption('as written');
    expect(await tomas.getByText(/Tomas sings/).count()).toBe(0);
    await page.locator('p.rubric', { hasText: 'Too high for Tomas: bar 12 holds B4' }).waitFor();
    await tomas.getByLabel('Octave of Tomas', { exact: true }).selectOption('');
    await tomas.getByText('Tomas sings an octave below.').waitFor();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(PHONE.width);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('tells what a change of key does, voice by voice', async () => {
    const { page, context } = await open(LAPTOP);
    await page.getByText('From verse 2, up a whole step, in D major:').waitFor();
    const words = 'the top is E5 for Ruth, in bar 12, two steps over what sits easily';
    await page.getByRole('listitem').filter({ hasText: words }).waitFor();
    await context.close();
  });

  it('has every key for every voice in one table, and a press takes the key', async () => {
    const { page, context, complaints } = await open(LAPTOP);
    await page.getByText('Every key for every voice').click();
    const grid = page.getByRole('table', { name: /How the tune lies in each voice/ });
    await grid.getByRole('button', { name: 'D major', exact: true }).click();
    await page.getByRole('heading', { name: 'In D major' }).waitFor();
    const row = grid.getByRole('row').filter({ has: page.getByText('as written') });
    expect(await row.getByRole('rowheader').innerText()).toContain('D');
    // What lies half under the notice at the foot would be found too small.
    await page.getByRole('button', { name: 'Close' }).click();
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
