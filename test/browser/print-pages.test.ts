import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { call, planService, type PlannedService } from './support/planned-service.ts';
import { printBlocks } from './support/printed.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

const SOON = { timeout: 10_000 };

let app: RunningApp;
let browser: Browser;
let planned: PlannedService;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
  planned = await planService(app.address);
  watched = await openPage(browser, { viewport: TABLET, colorScheme: 'dark' });
  page = watched.page;
});

afterAll(async () => {
  await browser?.close();
  await app?.stop();
});

async function open(member: string): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}/people/${member}`);
  await page.getByTestId('where').waitFor();
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
}

/** To look at, where the tools are there; nothing depends on it. */
async function keep(name: string, format: 'A4' | 'Letter'): Promise<void> {
  const folder = 'test/results/prints';
  mkdirSync(folder, { recursive: true });
  const file = `${folder}/${name}-${format}.pdf`;
  writeFileSync(file, await page.pdf({ format }));
  try {
    execFileSync('pdftoppm', ['-r', '80', '-png', file, file.replace('.pdf', '')]);
  } catch {
    // No pictures here; the PDF lies there.
  }
}

/** What sticks out of the paper to the right, as it is laid out for it; an A4 sheet less its margins is 182 mm wide. */
async function clipped(width: number): Promise<string[]> {
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width, height: 1000 });
  const found = await page.evaluate(() => {
    const all = [...document.querySelectorAll<Element>('.sheet *:not(svg *)')];
    return all
      .filter(
        (each) => each.checkVisibility() && each.getBoundingClientRect().right > innerWidth + 1,
      )
      .map((each) => `${each.className.toString()} ${each.textContent?.slice(0, 30) ?? ''}`);
  });
  await page.emulateMedia({ media: null });
  await page.setViewportSize(TABLET);
  return found;
}

/** The share of a figure's box that is empty above it. */
const ABOVE_FIGURES = 0.25;

/** Texts above the block that they belong to: where it begins a page, they would stay on the page before. */
async function standingOut(width: number): Promise<string[]> {
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width, height: 1000 });
  const found = await page.evaluate(
    (above) =>
      [...document.querySelectorAll('.sheet section')].flatMap((block) => {
        const ground = block.getBoundingClientRect().top;
        return [...block.querySelectorAll('svg.system text')]
          .filter((each) => {
            const { top, height } = each.getBoundingClientRect();
            return top + above * height < ground;
          })
          .map((each) => each.textContent ?? '');
      }),
    ABOVE_FIGURES,
  );
  await page.emulateMedia({ media: null });
  await page.setViewportSize(TABLET);
  return found;
}

/** Millimetres of paper less the side margins of 14 mm (`print.css`), in CSS px. */
const WIDTHS = { A4: ((210 - 28) / 25.4) * 96, Letter: ((215.9 - 28) / 25.4) * 96 };

describe.each(['A4', 'Letter'] as const)('The printed set on %s', (format) => {
  it.each(['Ines', 'Ruth', 'Joel', 'Ada'] as const)(
    'of %s begins each song on a page of its own and cuts no line',
    async (name) => {
      await open(planned.people[name]);
      const sheets = await printBlocks(page, '.sheet', 'h1', format);
      const starts = sheets.blocks.map(({ first }) => first);
      expect(new Set(starts).size, String(starts)).toBe(starts.length);
      sheets.blocks.forEach(({ last }, index) => {
        expect(last).toBeLessThan(starts[index + 1] ?? Infinity);
      });
      const lines = await printBlocks(page, '.sheet section:not(.long)', 'svg.system', format);
      for (const { name: line, first, last } of lines.blocks) expect(last, line).toBe(first);
      expect(await clipped(Math.floor(WIDTHS[format]))).toEqual([]);
      expect(await standingOut(Math.floor(WIDTHS[format]))).toEqual([]);
      await keep(name, format);
    },
  );
});

describe('On paper', () => {
  it.each(['A4', 'Letter'] as const)(
    'the second verse stands on the page of the music, and no verse is cut (%s)',
    async (format) => {
      await open(planned.people.Ruth);
      const starts = await printBlocks(page, '.sheet', 'h1', format);
      const verses = await printBlocks(page, '.sheet .words > li', 'br', format);
      for (const { name, first, last } of verses.blocks) expect(last, name).toBe(first);
      // The hymns of four lines leave half a page; so does no other of the set.
      const [grace, , night] = starts.blocks.map(({ first }) => first);
      const second = verses.blocks.filter(({ name }) => name.startsWith('2')).map(({ first }) => first); // prettier-ignore
      expect(second).toEqual([grace, expect.any(Number), night]);
    },
  );

  it('stand only verses that are sung, the first of them under the notes', async () => {
    const whole = await call(app.address, 'GET', `/services/${planned.service}`);
    const song = (whole['items'] as { id: string; song: string }[]).find(({ id }) => id === 'grace')?.song; // prettier-ignore
    const form = [2, 4].map((verse) => ({ section: 'verse', verse }));
    const { id } = await call(app.address, 'POST', '/services', {
      title: 'Two verses',
      date: '2027-12-05',
      zone: 'Europe/Berlin',
      items: [{ id: 'grace', kind: 'song', song, form }],
      people: [{ member: planned.people.Ruth, roles: ['lead voice'] }],
    });
    await page.goto(`${app.address}/services/${String(id)}/people/${planned.people.Ruth}`);
    await page.getByTestId('where').waitFor();
    await page.emulateMedia({ media: 'print' });
    const said = await page.locator('.sheet').first().innerText();
    const sung = await page.locator('.sheet .syl').allTextContents();
    await page.emulateMedia({ media: null });
    expect(said).toContain('verses 2 and 4');
    expect(said).toMatch(/^verse 2$/im);
    // The second and the fourth stanza of Newton's hymn begin so; the first and the third do not.
    expect(sung.join(' ')).toMatch(/^\s*['’]Twas\s+grace/);
    expect(said).toContain('The Lord has promised good to me');
    expect(said).not.toMatch(/Amazing grace!|Through many dangers/);
    expect(await page.locator('.sheet .words > li').count()).toBe(1);
  });

  it('stands who it is for, on what day, the cautions, and that copying can need a licence', async () => {
    await open(planned.people.Ines);
    await page.emulateMedia({ media: 'print' });
    const said = await page.locator('.sheet').first().innerText();
    expect(said).toContain('for Ines, Sunday, 28 November 2027');
    expect(said).toMatch(/Stop when something hurts/);
    expect(said).toContain('Copying words and music can need a licence');
    const { paper, ground } = await page.evaluate(() => ({
      paper: getComputedStyle(document.documentElement).getPropertyValue('--paper').trim(),
      ground: getComputedStyle(document.documentElement).backgroundColor,
    }));
    await page.emulateMedia({ media: null });
    expect(paper).toMatch(/^#fff(fff)?$/);
    expect(ground).toBe('rgba(0, 0, 0, 0)');
  });

  it('comes one sheet where one is wanted, else all', async () => {
    await open(planned.people.Ines);
    const printed = (what: string) =>
      page.evaluate(async (button) => {
        const seen: number[] = [];
        globalThis.print = () => {
          const sheets = [...document.querySelectorAll('.sheet')];
          const leaf = document.querySelector<HTMLElement>('.leaf');
          const one = leaf?.dataset['printing'] === 'one';
          seen.push(one ? sheets.filter((each) => each.matches('.open')).length : sheets.length);
        };
        const press = (name: string) =>
          [...document.querySelectorAll('button')]
            .find((each) => each.textContent?.trim() === name)
            ?.click();
        document.querySelector<HTMLElement>('[data-testid=where]')?.click();
        await new Promise((done) => setTimeout(done, 100));
        press(button);
        await new Promise((done) => setTimeout(done, 100));
        return seen;
      }, what);
    expect(await printed('print this sheet')).toEqual([1]);
    expect(await printed('print all')).toEqual([3]);
  });

  it('the order of service comes as it is printed for whoever leads, without what it is planned with', async () => {
    await page.goto(`${app.address}/services/${planned.service}`);
    await expect.poll(() => page.locator('.paper-only .line .key').count(), SOON).toBe(3);
    await page.emulateMedia({ media: 'print' });
    const said = await page.locator('body').innerText();
    const controls = 'button, input, textarea, select, a, nav, [role=button]';
    const left = await page
      .locator(controls)
      .evaluateAll((all) =>
        all.filter((each) => each.checkVisibility()).map((each) => each.outerHTML.slice(0, 60)),
      );
    await page.emulateMedia({ media: null });
    expect(left).toEqual([]);
    const lines = said.split('\n').map((line) => line.trim());
    for (const words of [
      'First Sunday of Advent',
      'order of service',
      'Sunday, 28 November 2027, 10:30',
      'St Anne’s, Saltmarsh',
      'Welcome',
      'Amazing Grace',
      'D major',
      'Ruth leads',
      'Isaiah 40 reading',
      'lights down before the prayer',
      'Silent Night',
      '10:33',
      'Ines',
      'keys',
    ])
      expect(lines, words).toContain(words);
    expect(said).not.toMatch(/add a song|set link|change|take out|Touch a line/i);
    const printed = await printBlocks(page, '.paper-only section', 'h1', 'A4');
    expect(printed.pages).toHaveLength(1);
    await keep('order', 'A4');
  });

  it('took nothing amiss on the way: the console stayed silent', () => {
    expect(watched.complaints).toEqual([]);
  });
});
