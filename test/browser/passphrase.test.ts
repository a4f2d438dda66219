import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

const PASSPHRASE = 'the hill is green in spring';
let app: RunningApp;
let browser: Browser;
let page: Page;
let complaints: string[];

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  // A refusal is what the door is for; the browser writes each of them to its console.
  const refusals = [/status of 401/, /status of 403/];
  ({ page, complaints } = await openPage(browser, { viewport: TABLET }, refusals));
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const button = (name: string) => page.getByRole('button', { name, exact: true });

describe('The leader’s side of a fresh start', () => {
  it('says that it is open on this machine alone, and takes a passphrase', async () => {
    await page.goto(`${app.address}/team`);
    await page.getByText('Open on this machine without a passphrase').waitFor();
    await page.getByLabel('passphrase', { exact: true }).fill(PASSPHRASE);
    await button('Set a passphrase').click();
    await page.getByText('Whoever knows the passphrase').waitFor();
  });

  it('asks for it in place of the page once signed out, and says when it is wrong', async () => {
    await button('sign out on this device').click();
    await page.getByRole('heading', { name: 'The leader’s side' }).waitFor();
    await page.goto(`${app.address}/people`);
    await page.getByRole('heading', { name: 'The leader’s side' }).waitFor();
    expect(await page.getByText('Nobody is here yet').isVisible()).toBe(false);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByLabel('passphrase').fill('the hill is brown');
    await button('Open').click();
    await page
      .getByRole('alert')
      .filter({ hasText: /passphrase/ })
      .waitFor();
  });

  it('goes on with the page that was asked for', async () => {
    await page.getByLabel('passphrase').fill(PASSPHRASE);
    await page.keyboard.press('Enter');
    await page.getByText('Nobody is here yet').waitFor();
    expect(await page.title()).toMatch(/^Singers and players/);
    expect(complaints).toEqual([]);
  });
});
