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

/**
 * That the server refuses within a second is measured at the server (`test/api/taken-back.test.ts`); here the browser
 * loads the whole app besides, on whatever machine this is.
 */
const READ_WITHIN_SECONDS = 3;
const REFUSED = [/status of 4\d\d/];
/** Words of the service that nobody may see for whom the link does not open. */
const OF_THE_SERVICE = /Advent|Saltmarsh|Amazing|Ines|Ruth|Isaiah/;
const text = (page: Page) => page.locator('body').innerText();

describe('A set link', () => {
  it('takes its secret out of the address bar, and tells it nobody but its own door', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    const secret = planned.path.split('#')[1] ?? '';
    expect(secret.length).toBeGreaterThan(40);
    const told: string[] = [];
    page.on('request', (request) => {
      const all = [request.url(), JSON.stringify(request.headers()), request.postData() ?? ''];
      if (all.join(' ').includes(secret)) told.push(`${request.method()} ${request.url()}`);
    });
    await page.goto(app.address + planned.path);
    await page.getByRole('heading', { name: 'Who are you?' }).waitFor();
    expect(page.url()).toBe(`${app.address}/s/${planned.link}`);
    expect(told).toEqual([`POST ${app.address}/api/set/${planned.link}/session`]);
    // No script can read the cookie that it was traded for.
    expect(await page.evaluate(() => document.cookie)).toBe('');
    expect(app.said()).not.toContain(secret);
    await page.goBack().catch(() => null);
    await page.goForward().catch(() => null);
    expect(page.url()).not.toContain('#');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('shows team, service, day in words, place and the order in short, and nothing of the leader’s side', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await page.goto(app.address + planned.path);
    await page.getByRole('heading', { name: 'First Sunday of Advent' }).waitFor();
    const said = await text(page);
    expect(said).toContain('Sunday, 28 November 2027, 10:30, St Anne’s, Saltmarsh');
    expect(said).toMatch(/Welcome[\s\S]*Amazing Grace\s*D\s*Ruth leads[\s\S]*Isaiah 40/);
    expect(said).not.toContain('Mila');
    expect(said).toContain('a harmony voice');
    expect(await page.getByRole('navigation').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('opens again later by its cookie, and offers one’s own pages first', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: /^Joel/ }).click();
    await page.getByTestId('where').waitFor();
    const again = await context.newPage();
    await again.goto(`${app.address}/s/${planned.link}`);
    const first = again.locator('main button').first();
    await first.waitFor();
    expect(await first.innerText()).toContain('Joel’s pages');
    await first.click();
    await again.getByTestId('where').waitFor();
    expect(again.url()).toBe(`${app.address}/s/${planned.link}/${planned.people.Joel}`);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['a wrong secret', (path: string) => `${path.slice(0, -3)}xyz`, 'This link does not open'],
    ['no secret', (path: string) => path.split('#')[0] ?? '', 'This link does not open'],
    ['a link that never was', () => `/s/nothing#${'x'.repeat(43)}`, 'This link does not open'],
  ])('with %s says so kindly, and nothing of the service', async (_, change, title) => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE }, REFUSED);
    await page.goto(app.address + change(planned.path));
    await page.getByRole('heading', { name: title }).waitFor();
    expect(await text(page)).toMatch(/ask your leader/i);
    expect(await text(page)).not.toMatch(OF_THE_SERVICE);
    expect(page.url()).not.toContain('#');
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('that was taken back or has ended says so once the page is loaded anew, and opens no page', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE }, REFUSED);
    const made = await call(app.address, 'POST', `/services/${planned.service}/links`, {});
    const link = made['link'] as { id: string };
    await page.goto(app.address + (made['path'] as string));
    await page.getByRole('heading', { name: 'Who are you?' }).waitFor();
    const change = (body: object, version: number) =>
      call(app.address, 'PATCH', `/links/${link.id}`, body, { 'if-match': `"v${version}"` });
    await change({ revoked: true }, 1);
    // The whole way of a telephone that asks again: the page is loaded anew and says what the server answered.
    const answered = performance.now();
    await page.reload({ waitUntil: 'commit' });
    await page.getByRole('heading', { name: 'This link was taken back' }).waitFor();
    const seconds = (performance.now() - answered) / 1000;
    expect(seconds, `${seconds.toFixed(2)} s`).toBeLessThan(READ_WITHIN_SECONDS);
    expect(await text(page)).not.toMatch(OF_THE_SERVICE);
    await change({ revoked: false, endsAt: '2026-01-01T00:00:00Z' }, 2);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByRole('heading', { name: 'This link has ended' }).waitFor();
    await page.goto(`${app.address}/s/${link.id}/${planned.people.Ines}`);
    await page.getByRole('alert').waitFor();
    expect(await text(page)).not.toMatch(OF_THE_SERVICE);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('without a network says so, what is on the screen stays, and the way back leads to what was seen', async () => {
    const { page, context } = await openPage(browser, { viewport: PHONE });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: /^Ines/ }).click();
    await page.getByTestId('where').waitFor();
    await context.setOffline(true);
    await page.getByTestId('from-device').getByText('no network').waitFor();
    await page.keyboard.press('End');
    expect(await page.getByTestId('where').innerText()).toContain('Silent Night');
    await page.keyboard.press('Escape');
    await page.getByText('No network just now: this is as it was at').waitFor();
    expect(await text(page)).toContain('First Sunday of Advent');
    await context.close();
  });
});
