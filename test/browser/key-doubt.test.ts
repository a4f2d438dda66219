import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { drop, hymn, openPage, PHONE, TABLET, type WatchedPage } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  watched = await openPage(browser, { viewport: TABLET });
  page = watched.page;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

const key = () => page.getByRole('group', { name: 'Key', exact: true });

async function arrangement(): Promise<{ key: unknown; player: string | null }> {
  const id = new URL(page.url()).pathname.split('/')[2] ?? '';
  return (await fetch(`${app.address}/api/songs/${id}/arrangement`)).json() as ReturnType<
    typeof arrangement
  >;
}

// The file: two sharps, E in the last bass, D sharp before it; the tune is sung in E minor by most (common practice).
describe('A song whose key was read with a doubt', () => {
  it('is answered to E minor, moved a half step at a time, and stays so', async () => {
    await page.goto(`${app.address}/songs`);
    await page.getByRole('heading', { name: 'Songs' }).waitFor();
    const name = 'What_Child_Is_This-Greensleeves';
    await drop(page, `${name}.abc`, hymn(name));
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: /What Child/ }).waitFor();
    await page.getByRole('button', { name: 'E minor', exact: true }).click();
    await key().getByText('E minor').waitFor();
    await key()
      .getByRole('button', { name: /Down a half step/ })
      .click();
    await key()
      .getByRole('button', { name: /Down a half step/ })
      .click();
    await key().getByText('D minor').waitFor();
    await expect.poll(async () => (await arrangement()).key).toEqual({ tonic: 'D', mode: 'minor' });
    await page.reload();
    await key().getByText('D minor').waitFor();
    expect(await page.getByText('written in E minor').count()).toBe(1);
  });

  it('has someone to play it, who stays too', async () => {
    const { members } = await add({ name: 'Joel', roles: ['keys'] });
    await page.reload();
    const group = page.getByRole('group', { name: 'for whose hands the page is laid out' });
    await page.getByText('For whoever plays at the keys').click();
    await group.getByRole('radio', { name: 'Joel' }).check();
    await expect.poll(async () => (await arrangement()).player).toBe(members[0]?.id);
    await page.reload();
    await page.getByText('For Joel at the keys').click();
    await group.getByRole('radio', { name: 'Joel', checked: true }).waitFor();
  });

  it('on a phone its chosen key stands clear of the ends of the staff', async () => {
    await page.setViewportSize(PHONE);
    for (let i = 0; i < 12; i += 1) {
      await key()
        .getByRole('button', { name: /Up a half step/ })
        .click();
      const clear = () =>
        page.evaluate(() => {
          const chosen = document.querySelector('.scroller [role=radio][aria-checked=true]');
          const scroller = chosen?.closest('.scroller');
          if (!chosen || !scroller) return 'no staff';
          const [a, b] = [chosen.getBoundingClientRect(), scroller.getBoundingClientRect()];
          const left = scroller.classList.contains('fades-left') ? 24 : 0;
          const right = scroller.classList.contains('fades-right') ? 24 : 0;
          const seen = a.left >= b.left + left - 1 && a.right <= b.right - right + 1;
          return seen ? 'clear' : `${a.left}–${a.right} in ${b.left}–${b.right}`;
        });
      await expect.poll(clear).toBe('clear');
    }
  });

  it('took nothing amiss on the way: the console stayed silent', () => {
    expect(watched.complaints).toEqual([]);
  });
});

async function add(member: object): Promise<{ members: { id: string }[] }> {
  const headers = { 'content-type': 'application/json' };
  const body = JSON.stringify(member);
  await fetch(`${app.address}/api/members`, { method: 'POST', headers, body });
  return (await fetch(`${app.address}/api/members`)).json() as ReturnType<typeof add>;
}
