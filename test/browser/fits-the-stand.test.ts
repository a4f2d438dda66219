import type { Browser, Page, ViewportSize } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { TEXT_SIZES } from '#web/state/text-size.ts';
import { hymn, PHONE, TABLET } from './support/pages.ts';
import { printBlocks } from './support/printed.ts';
import { startApp, type RunningApp } from './support/running-app.ts';

let app: RunningApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([startApp(), launchChromium()]);
});
afterAll(async () => {
  await browser.close();
  await app.stop();
});

/** Few shapes, eight shapes, more than eight. */
const HYMNS = [
  'Amazing_Grace-New_Britain',
  'O_Come_O_Come_Emmanuel-Veni_Emmanuel',
  'The_Churchs_One_Foundation-Aurelia',
];

/** The tune of the 100th psalm (Geneva 1551) in bars of two halves, with chords of our own: more than a page has room for. */
const MANY = `X:1
T:Old Hundredth, with many chords
M:4/4
L:1/4
Q:1/4=72
K:G
"G"G2 "Em7"G2 | "C"F2 "Am7"E2 | "D7"D2 "Bm"G2 | "B7"A2 "E"B2 |
"Em"B2 "F#m7b5"B2 | "A7"B2 "Am"A2 | "Cm"G2 "Eb"c2 | "F"B2 "Dsus4"A2 |
"G7"G2 "D"A2 | "Gmaj7"B2 "Bb"A2 | "F#"G2 "Bdim"E2 | "C7"F2 "Gm"G2 |
"Dm7"d2 "Fm"B2 | "Caug"G2 "C#dim7"A2 | "Ab"c2 "D7"B2 | "Am"A2 "D"A2 | "G"G4 |]
`;

async function bring(abc: Buffer): Promise<string> {
  const response = await fetch(`${app.address}/api/songs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ format: 'abc', bytes: abc.toString('base64'), tune: 0 }),
  });
  const { id } = (await response.json()) as { id: string };
  return id;
}

/** Opens the sheet of a song, when all of it is drawn. */
async function openSheetOf(id: string, viewport: ViewportSize, size = 1): Promise<Page> {
  const page = await browser.newPage({ viewport });
  await page.addInitScript((text) => localStorage.setItem('partbook.text', String(text)), size);
  await page.goto(`${app.address}/songs/${id}/sheet`);
  await page.locator('.music svg').first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  return page;
}

/** Opens the sheet of a hymn that is brought anew. */
async function openSheet(name: string, viewport: ViewportSize): Promise<Page> {
  return openSheetOf(await bring(hymn(name)), viewport);
}

describe('A sheet on a tablet', () => {
  it.each(HYMNS)('shows every line of %s whole, two on a page after the first', async (name) => {
    const page = await openSheet(name, TABLET);
    const { room, blocks, lines } = await page.evaluate(() => ({
      room: document.querySelector('.inner')?.clientHeight ?? 0,
      blocks: [...document.querySelectorAll<HTMLElement>('.inner section')].map(
        (each) => each.offsetHeight,
      ),
      lines: [...document.querySelectorAll<HTMLElement>('.music')].map((each) => each.offsetHeight),
    }));
    await page.close();
    expect(lines.length).toBeGreaterThan(3);
    expect(Math.max(...blocks)).toBeLessThanOrEqual(room);
    expect(2 * Math.max(...lines)).toBeLessThanOrEqual(room);
  });
});

describe.each([
  ['tablet', TABLET],
  ['tablet held upright', { width: 820, height: 1180 }],
  ['phone', PHONE],
] as const)('The last page of a sheet on a %s', (_, viewport) => {
  it.each(HYMNS)(
    'of %s has music on it, not the credits alone, and every line is seen once',
    async (name) => {
      const page = await openSheet(name, viewport);
      const look = () =>
        page.evaluate(() => {
          const all = [...document.querySelectorAll<HTMLElement>('.inner section')];
          const inner = document.querySelector('.inner')?.getBoundingClientRect();
          return {
            room: inner?.height ?? 0,
            foot: inner?.bottom ?? 0,
            heights: all.map((each) => each.offsetHeight),
            end: all.findIndex((each) => each.closest('.end')),
            shown: all.flatMap((each, i) => (each.classList.contains('away') ? [] : [i])),
            bottom: Math.max(
              ...all
                .filter((each) => !each.classList.contains('away'))
                .map((each) => each.getBoundingClientRect().bottom),
            ),
          };
        });
      await page.keyboard.press('Home');
      const seen: number[] = [];
      let last = await look();
      for (let turn = 0; turn < 30; turn += 1) {
        last = await look();
        seen.push(...last.shown);
        if (last.shown.length > 1) expect(last.bottom).toBeLessThanOrEqual(last.foot + 2);
        if (last.shown.includes(last.heights.length - 1)) break;
        await page.keyboard.press('PageDown');
      }
      await page.close();
      expect(seen).toEqual(last.heights.map((_height, i) => i));
      // Alone only where one line and the end are more than a page.
      const lineAndEnd = last.heights.slice(last.end - 1).reduce((sum, height) => sum + height, 0);
      if ((last.shown[0] ?? 0) >= last.end) expect(lineAndEnd).toBeGreaterThan(last.room - 12);
    },
  );
});

/** The smallest words, the usual, and the largest: what stands between them has its place between theirs. */
const SIZES = [Math.min(...TEXT_SIZES), 1, Math.max(...TEXT_SIZES)];

/** What is seen of a sheet, page after page. */
interface Leaf {
  readonly room: number;
  readonly heights: readonly number[];
  readonly shown: readonly number[];
  readonly chords: readonly string[];
  /** CSS px of what is shown above the page, below it, or beside it. */
  readonly outside: number;
}

async function leavesOf(page: Page): Promise<Leaf[]> {
  const leaves: Leaf[] = [];
  await page.keyboard.press('Home');
  for (let turn = 0; turn < 60; turn += 1) {
    const leaf = await page.evaluate((): Leaf => {
      // A page that is turned glides in: it is looked at where it comes to rest.
      for (const each of document.getAnimations()) each.finish();
      const all = [...document.querySelectorAll<HTMLElement>('.inner section')];
      const shown = all.flatMap((each, i) => (each.classList.contains('away') ? [] : [i]));
      const inner = document.querySelector('.inner')?.getBoundingClientRect() ?? new DOMRect();
      const seen = shown.flatMap((i) => {
        const block = all[i] as HTMLElement;
        const inside = [block, ...block.querySelectorAll('p, li, li > span, svg')];
        return inside.filter((each) => each.checkVisibility());
      });
      const boxes = seen.map((each) => each.getBoundingClientRect());
      return {
        room: inner.height,
        heights: all.map((each) => each.offsetHeight),
        shown,
        chords: shown.flatMap((i) =>
          [...(all[i]?.querySelectorAll('.strip .chord') ?? [])].map((each) => each.textContent),
        ),
        outside: Math.max(
          inner.top - Math.min(...boxes.map(({ top }) => top)),
          Math.max(...boxes.map(({ bottom }) => bottom)) - inner.bottom,
          Math.max(...boxes.map(({ right }) => right)) - innerWidth,
        ),
      };
    });
    leaves.push(leaf);
    if (leaf.shown.includes(leaf.heights.length - 1)) break;
    await page.keyboard.press('PageDown');
  }
  return leaves;
}

/** The chords of the song as they were written, as they are shown. */
const WRITTEN = [...new Set([...MANY.matchAll(/"([^"]+)"/g)].map(([, chord = '']) => chord))].map(
  (chord) => chord.replaceAll('#', '♯').replaceAll(/(?<=.)b/g, '♭'),
);

describe('A first sheet with more hand pictures than a page has room for', () => {
  let song: string;
  beforeAll(async () => {
    song = await bring(Buffer.from(MANY));
  });

  describe.each([
    ['tablet', TABLET],
    ['tablet held upright', { width: 820, height: 1180 }],
    ['phone', PHONE],
    ['phone held sideways', { width: 844, height: 390 }],
  ] as const)('on a %s', (_, viewport) => {
    it.each(SIZES)(
      'shows each picture and each line whole and once, with words of size %d',
      async (size) => {
        const page = await openSheetOf(song, viewport, size);
        const leaves = await leavesOf(page);
        await page.close();
        const heights = leaves[0]?.heights ?? [];
        expect(leaves.flatMap(({ shown }) => shown)).toEqual(heights.map((_height, i) => i));
        for (const { outside } of leaves) expect(outside).toBeLessThanOrEqual(2);
        const chords = leaves.flatMap((leaf) => leaf.chords);
        expect([...new Set(chords)].sort()).toEqual([...WRITTEN].sort());
        const [head = 0, row = 0] = heights;
        const isTogether = leaves[0]?.shown.includes(1) ?? false;
        expect(isTogether).toBe(head + row <= (leaves[0]?.room ?? 0));
      },
    );
  });

  it.each(['A4', 'Letter'] as const)('cuts none of them on %s', async (format) => {
    const page = await openSheetOf(song, TABLET);
    const { blocks } = await printBlocks(page, '.sheet section:not(.long)', '.strip', format);
    const first = blocks.findIndex(({ has }) => has);
    const right = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    await page.close();
    expect(blocks.filter(({ has }) => has).length).toBeGreaterThan(4);
    for (const block of blocks) expect(block.last, block.name).toBe(block.first);
    expect(blocks[first]?.first).toBe(blocks[0]?.first);
    expect(right).toBe(0);
  });
});
