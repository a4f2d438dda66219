import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { axeFindings, openPage, PHONE, TABLET } from './support/pages.ts';
import { planService, type PlannedService } from './support/planned-service.ts';
import { addSinger, answerAs, asked, button, openFinder, stored } from './support/range-finder.ts';
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

describe('A range that is found without a microphone', () => {
  it('the keys and two answers find it, a step can be taken back, and it can be undone', async () => {
    const id = await addSinger(app, 'Keziah');
    const { page, context, complaints } = await openPage(browser, {
      viewport: PHONE,
      hasTouch: true,
    });
    await openFinder(app, page, 'Keziah');
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: /^a middle voice/ }).tap();
    await asked(page).getByText('One note in the middle: A3').waitFor();
    await page.getByText('The first note that takes effort').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'A 3, asked now' }).tap();
    await button(page, 'That was easy').tap();
    await asked(page).getByText('A step lower: G3').waitFor();
    await button(page, 'back a step').tap();
    await asked(page).getByText('One note in the middle: A3').waitFor();
    await answerAs(page, 55, 67, (name) => button(page, name).tap());
    await page.getByText('G3 to G4 sits easily for Keziah.').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);
    await button(page, 'Keep it').tap();
    await expect
      .poll(async () => (await stored(app, id))['comfortable'])
      .toEqual({ low: 'G3', high: 'G4' });
    await page.getByText(/^Marked \d+ \w+ \d{4}\.$/).waitFor();
    await button(page, 'Undo').tap();
    await expect.poll(async () => (await stored(app, id))['comfortable']).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('everything is done by keyboard alone, and no step loses the focus', async () => {
    const id = await addSinger(app, 'Lois');
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/people`);
    const at = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
    const to = async (name: RegExp) => {
      for (let i = 0; i < 200 && !name.test(await at()); i += 1) await page.keyboard.press('Tab');
      expect(await at()).toMatch(name);
    };
    /** Presses what is named, and says where the focus is then. */
    const enter = async (name: RegExp) => {
      await to(name);
      await page.keyboard.press('Enter');
      await page.waitForTimeout(100);
      const isLost = await page.evaluate(() => document.activeElement === document.body);
      expect(isLost, `after ${String(name)}`).toBe(false);
      return at();
    };
    await to(/^Lois/);
    await page.keyboard.press('Enter');
    expect(await enter(/^Find it in two minutes/)).toMatch(/^a lower voice/);
    expect(await enter(/^a higher voice/)).toBe('That was easy');
    // Back to the question, and from there again.
    expect(await enter(/^back a step/)).toMatch(/^a lower voice/);
    expect(await enter(/^a higher voice/)).toBe('That was easy');
    // Enter again answers the next note: the button stays where it is and keeps the focus.
    expect(await enter(/^That was easy/)).toBe('That was easy');
    await asked(page).getByText('A step lower: E♭4').waitFor();
    expect(await enter(/^That was easy/)).toBe('That was easy');
    await asked(page).getByText('A step lower: C♯4').waitFor();
    const answer = (name: string) => enter(new RegExp(`^${name}$`));
    await answerAs(page, 61, 72, answer);
    await page.getByText('C♯4 to C5 sits easily for Lois.').waitFor();
    expect(await at()).toBe('Keep it');
    expect(await enter(/^begin again/)).toMatch(/^a lower voice/);
    expect(await enter(/^leave it as it was/)).toBe('Find it in two minutes');
    await enter(/^Find it in two minutes/);
    await enter(/^a higher voice/);
    await answerAs(page, 61, 72, answer);
    await page.getByText('C♯4 to C5 sits easily for Lois.').waitFor();
    expect(await enter(/^Keep it/)).toBe('find it again');
    await expect
      .poll(async () => (await stored(app, id))['comfortable'])
      .toEqual({ low: 'C#4', high: 'C5' });
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['insecure', 'came by https'],
    ['missing', 'No microphone was found'],
    ['refused', 'The microphone was not allowed'],
  ])('a page whose microphone is %s says so, and the keys do the job', async (why, words) => {
    await addSinger(app, `Without ${why}`, { child: true });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.addInitScript((reason) => {
      const { mediaDevices } = navigator;
      if (reason === 'insecure') {
        Object.defineProperty(navigator, 'mediaDevices', { value: undefined });
        Object.defineProperty(globalThis, 'isSecureContext', { value: false });
      } else {
        const name = reason === 'missing' ? 'NotFoundError' : 'NotAllowedError';
        mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', name));
      }
    }, why);
    await openFinder(app, page, `Without ${why}`);
    // A child is asked as a child, and nothing else is offered.
    expect(await page.locator('.find .kind').count()).toBe(1);
    await page.getByText('keep name and range private').first().waitFor();
    await page.getByRole('button', { name: /^a child’s voice/ }).click();
    if (why !== 'insecure') await button(page, 'Sing into the microphone').click();
    await page.getByText(words).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await answerAs(page, 63, 69, (name) => button(page, name).click());
    await page.getByText('E♭4 to A4 sits easily').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a singer finds their own by a set link, and an old one is asked for in one line', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: PHONE });
    await page.goto(app.address + planned.path);
    await page.getByRole('button', { name: 'My comfortable range, Ruth' }).click();
    await button(page, 'Find it in two minutes').click();
    await page.getByRole('button', { name: /^a middle voice/ }).click();
    await answerAs(page, 57, 72, (name) => button(page, name).click());
    await page.getByText('A3 to C5 sits easily for Ruth.').waitFor();
    await button(page, 'Keep it').click();
    await page.getByText('Thank you, Ruth.').waitFor();
    await expect
      .poll(async () => (await stored(app, planned.people['Ruth'] ?? ''))['comfortable'])
      .toEqual({ low: 'A3', high: 'C5' });
    await page.getByText(/^Marked \d+ \w+ \d{4}\.$/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: /^Ruth/ }).first().click();
    await page.getByTestId('where').waitFor();
    // A year and a day later.
    const later = new Date(Date.now() + 367 * 86_400_000);
    const again = await context.newPage();
    await again.clock.setFixedTime(later);
    await again.goto(`${app.address}/s/${planned.link}`);
    await again.getByText('after a year (our number)').waitFor();
    await again.getByRole('button', { name: 'my range again' }).click();
    await again.getByRole('button', { name: 'still true: the range of Ruth' }).waitFor();
    expect(await axeFindings(again)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('an old range on the people page is said in one line, and is true again with one press', async () => {
    const id = await addSinger(app, 'Naomi', { comfortable: { low: 'A3', high: 'C5' } });
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.clock.setFixedTime(new Date(Date.now() + 400 * 86_400_000));
    await page.goto(`${app.address}/people`);
    await page.getByText('· worth asking again').first().waitFor();
    await page
      .getByRole('button', { name: /^Naomi/ })
      .first()
      .click();
    await page.getByText('after a year (our number)').waitFor();
    const before = (await stored(app, id))['rangeMarkedAt'] as string;
    await page.getByRole('button', { name: 'still true: the range of Naomi' }).click();
    await expect
      .poll(async () => Date.parse((await stored(app, id))['rangeMarkedAt'] as string))
      .toBeGreaterThan(Date.parse(before));
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('everybody’s range stands on one great staff, is walked with the arrow keys, and is a table too', async () => {
    const { page, context, complaints } = await openPage(browser, { viewport: TABLET });
    await page.goto(`${app.address}/people`);
    const bars = page.getByRole('group', { name: 'The ranges of the team, low voices first' });
    await bars.getByRole('button').first().waitFor();
    const names = await bars
      .getByRole('button')
      .evaluateAll((all) => all.map((each) => each.getAttribute('aria-label') ?? ''));
    expect(names.length).toBeGreaterThan(2);
    await bars.getByRole('button').first().focus();
    await page.keyboard.press('End');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      names.at(-1),
    );
    await page.keyboard.press('Enter');
    await page.getByText('The same as a table').click();
    const rows = page.getByRole('table', { name: /low voices first/ }).getByRole('row');
    expect(await rows.count()).toBe(names.length + 1);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
