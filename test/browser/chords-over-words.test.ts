import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '#test/support/chromium.ts';
import { openPage, PHONE, TABLET } from './support/pages.ts';
import { planService, type PlannedService } from './support/planned-service.ts';
import { startApp, type RunningApp } from './support/running-app.ts';
import { guitarPages } from './support/words-page.ts';

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

interface Measured {
  readonly chords: number;
  /** Chords whose left edge lies off that of the letter under it, in px. */
  readonly off: readonly string[];
  /** Chords that touch the next one on their line. */
  readonly touching: readonly string[];
  /** Chords over no letter that stand lower than their neighbour over one. */
  readonly low: readonly string[];
  /** Words whose letters stand on two lines. */
  readonly parted: readonly string[];
  /** What lies beyond the page. */
  readonly outside: readonly string[];
  /** Size of the words in px. */
  readonly size: number;
}

/** Edges as the browser has laid them out, by ranges round the text itself; runs in the page. */
function measure(): Measured {
  const box = (element: Element | null | undefined): DOMRect | null => {
    if (!element?.textContent?.trim()) return null;
    const range = document.createRange();
    range.selectNodeContents(element);
    return range.getBoundingClientRect();
  };
  const found = { chords: 0, off: [], touching: [], low: [], parted: [], outside: [], size: 0 } as {
    -readonly [K in keyof Measured]: Measured[K] extends number ? number : string[];
  };
  for (const line of document.querySelectorAll('p.words')) {
    found.size = parseFloat(getComputedStyle(line).fontSize);
    const right = line.closest('.leaf')?.getBoundingClientRect().right ?? 0;
    const chords: { name: string; rect: DOMRect }[] = [];
    for (const fragment of line.querySelectorAll('.fragment')) {
      const rect = box(fragment.querySelector('.over'));
      const name = fragment.querySelector('.over')?.textContent ?? '';
      const letters = box(fragment.querySelector('.text'));
      if (!rect) continue;
      chords.push({ name, rect });
      const off = letters ? rect.left - letters.left : 0;
      if (Math.abs(off) > 2) found.off.push(`${name}: ${off.toFixed(1)} px`);
      if (rect.right > right) found.outside.push(name);
      const before = chords.at(-2);
      const isBeside = before && before.rect.right < rect.left;
      if (!letters && isBeside && Math.abs(before.rect.top - rect.top) > 2) found.low.push(name);
    }
    found.chords += chords.length;
    chords.forEach(({ name, rect }, index) => {
      const next = chords[index + 1];
      const sameLine = next && Math.abs(next.rect.top - rect.top) < rect.height / 2;
      if (sameLine && rect.right > next.rect.left - 1) found.touching.push(`${name} ${next.name}`);
    });
    for (const word of line.querySelectorAll('.word')) {
      const tops = [...word.querySelectorAll('.text')].map(
        (each) => each.getBoundingClientRect().top,
      );
      if (Math.max(...tops) - Math.min(...tops) > 2) found.parted.push(word.textContent ?? '');
    }
  }
  return found;
}

async function open(page: Page, member: string): Promise<void> {
  await page.goto(`${app.address}/services/${planned.service}/people/${member}`);
  await page.getByTestId('where').waitFor();
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
}

const TEXTS = [0.75, 0.85, 1, 1.2, 1.4, 1.7];

describe.each([
  ['tablet', TABLET, 32],
  ['phone', PHONE, 22],
] as const)('Words with chords on a %s', (_, viewport, usual) => {
  it.each([
    ['as the server writes them', false],
    ['under more and wider chords than anybody plays, with what a capo sounds', true],
  ])('%s: each chord over its letter at every size of the words', async (_what, invented) => {
    const { page, context, complaints } = await openPage(browser, { viewport });
    if (invented) {
      await page.route('**/api/services/*/pages/*', (route) =>
        route.fulfill({ json: guitarPages() }),
      );
    }
    for (const text of TEXTS) {
      await page.addInitScript(`localStorage.setItem('partbook.text', '${text}')`);
      await open(page, planned.people.Joel);
      const found = await page.evaluate(measure);
      expect(found.chords, String(text)).toBeGreaterThan(20);
      expect(found.size).toBeCloseTo(usual * text, 1);
      const { off, touching, low, parted, outside } = found;
      expect({ text, off, touching, low, parted, outside }).toEqual({
        text,
        off: [],
        touching: [],
        low: [],
        parted: [],
        outside: [],
      });
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
