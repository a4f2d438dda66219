import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Abc } from '#music';
import { launchChromium } from '#test/support/chromium.ts';
import { hymn, openPage, TABLET } from './support/pages.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

/** A hymn in which one bar of the first voice has lost its first note. */
function damaged(): { text: string; line: number } {
  const lines = hymn('Amazing_Grace-New_Britain').toString('latin1').split('\n');
  const index = lines.findIndex((line) => /^\[V: ?\S+\].*\|/.test(line));
  lines[index] = (lines[index] ?? '').replace(/\|\s*[A-Ga-g][,']*\d*/, '|');
  return { text: lines.join('\n'), line: index + 1 };
}

describe('A file with something wrong in it', () => {
  it('shows each doubt at its line, and a click leads there', async () => {
    const { text } = damaged();
    const read = Abc.read(text);
    const found = read.ok ? read.warnings : read.problems;
    const first = found.find((each) => each.line !== undefined);
    expect(first, 'the damage is noticed').toBeDefined();

    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill(text);
    const said = page.getByRole('button', { name: `line ${first?.line}` }).first();
    await said.waitFor();
    expect(await page.getByText(first?.message ?? '').count()).toBeGreaterThan(0);
    await said.click();
    const selected = await page
      .locator('textarea')
      .evaluate((area: HTMLTextAreaElement) =>
        area.value.slice(area.selectionStart, area.selectionEnd),
      );
    expect(selected).toBe(text.split('\n')[(first?.line ?? 1) - 1]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is no song yet: says so, keeps every letter, also over a reload', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill('T: A letter, not a tune\nK: G');
    await page.getByText('It cannot be read yet').waitFor();
    await page.reload();
    expect(await page.locator('textarea').inputValue()).toBe('T: A letter, not a tune\nK: G');
    await context.close();
  });
});

describe('Without a network', () => {
  it('a song that cannot be kept stays on the page with one sentence, and is kept on the next try', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill(hymn('Be_Thou_My_Vision-Slane').toString('latin1'));
    await page.getByRole('button', { name: 'Keep this song' }).waitFor();
    await context.setOffline(true);
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByText('What you typed is kept here').waitFor();
    expect(await page.locator('textarea').inputValue()).toContain('Be Thou My Vision');
    await context.setOffline(false);
    await page.getByRole('button', { name: 'Keep this song' }).click();
    await page.getByRole('heading', { level: 1, name: 'Be Thou My Vision' }).waitFor();
    await context.close();
  });
});

describe('The engraver on the device', () => {
  it('moves the song to another key without the network, as the server draws it', async () => {
    const { page, context } = await openPage(browser, { viewport: TABLET });
    const bytes = hymn('Amazing_Grace-New_Britain').toString('base64');
    const kept = await fetch(`${app.address}/api/songs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ format: 'abc', bytes }),
    });
    const { id } = (await kept.json()) as { id: string };
    const fetched = page.waitForResponse(/engraver\.worker/);
    await page.goto(`${app.address}/songs/${id}`);
    await page.locator('.system').first().waitFor();
    await (await fetched).finished();
    // Patches for fingers are measured in the page and are no part of the drawing.
    const drawn = async () =>
      (await page.locator('.lines').innerHTML()).replace(/<rect class="target"[^>]*><\/rect>/g, '');
    await context.setOffline(true);
    await page.getByRole('button', { name: /^Up a half step/ }).click();
    await expect.poll(drawn, { timeout: 30_000 }).toContain('href="#E260"');
    const here = await drawn();
    await page.getByRole('button', { name: 'Try again' }).waitFor();
    // What was not sent is sent once the network is back.
    await context.setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).waitFor({ state: 'detached' });
    await page.reload();
    await page.locator('.system').first().waitFor();
    expect(await page.locator('.stepper .key').textContent()).toBe('A♭ major');
    await expect.poll(drawn).toBe(here);
    await context.close();
  });
});

describe('A hymn whose key is in doubt', () => {
  it('shows the doubt and its reason, and takes the answer along', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/songs/new`);
    await page.locator('textarea').fill(hymn('What_Child_Is_This-Greensleeves').toString('latin1'));
    await page.getByRole('button', { name: 'Keep this song' }).waitFor();
    const doubt = page.getByRole('group', { name: 'Which key is this?' });
    if ((await doubt.count()) > 0) {
      const last = doubt.getByRole('button').last();
      const answer = await last.textContent();
      await last.click();
      await page.getByRole('button', { name: 'Keep this song' }).click();
      await page.locator('.stepper').waitFor();
      expect(await page.locator('.stepper .key').textContent()).toBe(answer?.trim());
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('A file without a title', () => {
  it('goes in under the name of its file, or under the one that is typed', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    for (const [name, typed, title] of [
      ['Evening_Lamp.abc', null, 'Evening Lamp'],
      ['untitled.abc', 'Morning Lamp', 'Morning Lamp'],
    ] as const) {
      await page.goto(`${app.address}/songs/new`);
      const buffer = Buffer.from(
        `X:1\nM:4/4\nL:1/4\nK:C\n${typed ? 'cBAG|FEDC' : 'CDEF|GABc'}|]\n`,
      );
      await page.locator('input[type=file]').first().setInputFiles({ name, mimeType: '', buffer });
      const field = page.getByLabel('title', { exact: true });
      await field.waitFor();
      if (typed) await field.fill(typed);
      await page.getByRole('heading', { level: 2, name: title }).waitFor();
      await page.getByRole('button', { name: 'Keep this song' }).click();
      await page.getByText(`${title} is in the book.`).waitFor();
      await page.getByRole('heading', { level: 1, name: title }).waitFor();
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
