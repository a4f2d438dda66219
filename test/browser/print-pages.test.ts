import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { openPage, TABLET, type WatchedPage } from './support/pages.ts';
import { planService, type PlannedService } from './support/planned-service.ts';
import { printBlocks } from './support/printed.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

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
      const lines = await printBlocks(page, '.sheet section', 'svg.system', format);
      for (const { name: line, first, last } of lines.blocks) expect(last, line).toBe(first);
      expect(await clipped(Math.floor(WIDTHS[format]))).toEqual([]);
      await keep(name, format);
    },
  );
});

describe('On paper', () => {
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

  it('took nothing amiss on the way: the console stayed silent', () => {
    expect(watched.complaints).toEqual([]);
  });
});
