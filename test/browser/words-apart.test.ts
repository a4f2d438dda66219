import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Engraving, Keys, Parts, Sheets, type Engraver as SheetEngraver } from '#music';
import { launchChromium } from '#test/support/chromium.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { makeEngraver } from '#test/support/verovio.ts';

const PLAYER = { id: 'p', name: 'Ines', level: 'beginner', reach: 12 } as const;
/** A voice that the tunes leave at both ends, so that the marks above the words stand there too. */
const VOICE = { low: 'B3', high: 'A4' } as const;
const WIDTHS = [1180, 820, 390];
const ROLES = ['keys', 'bass', 'lead voice'] as const;
/** What notes are called: the widest names on the widest page and the narrowest too. */
const SHEETS = [
  ...ROLES.flatMap((role) => WIDTHS.map((width) => ({ role, width, names: 'english' as const }))),
  ...(['german', 'solfege', 'numbers'] as const).flatMap((names) =>
    [1180, 390].map((width) => ({ role: 'keys' as const, width, names })),
  ),
];

/** The fonts as shipped and the look as shipped: the engraver only guesses how wide they are. */
function styles(): string {
  const font = (family: string, file: string, more: string) => {
    const path = new URL(`../../node_modules/@fontsource/${file}`, import.meta.url);
    const data = readFileSync(path).toString('base64');
    return `@font-face{font-family:'${family}';${more}src:url(data:font/woff2;base64,${data})}`;
  };
  const look = readFileSync(new URL('../../web/style/music.css', import.meta.url), 'utf8');
  const tokens = readFileSync(new URL('../../web/style/tokens.css', import.meta.url), 'utf8');
  return [
    font(
      'Source Serif 4',
      'source-serif-4/files/source-serif-4-latin-400-normal.woff2',
      'font-weight:400;',
    ),
    font(
      'Source Sans 3',
      'source-sans-3/files/source-sans-3-latin-600-normal.woff2',
      'font-weight:600;',
    ),
    tokens,
    look,
  ].join('\n');
}

/** Pairs of texts on one line that overlap by more than half a pixel; runs in the page. */
const OVERLAPS = `(() => {
  const found = [];
  for (const system of document.querySelectorAll('svg.system')) {
    for (const kind of ['syl', 'harm']) {
      const boxes = [...system.querySelectorAll('.' + kind)].map((group) => {
        const texts = [...group.querySelectorAll('text')];
        const rects = texts.map((each) => each.getBoundingClientRect());
        return {
          text: texts.map((each) => each.textContent).join(''),
          left: Math.min(...rects.map((each) => each.left)),
          right: Math.max(...rects.map((each) => each.right)),
          top: Math.round(rects[0]?.top ?? 0),
        };
      });
      boxes.forEach((one, i) => boxes.slice(i + 1).forEach((other) => {
        if (Math.abs(one.top - other.top) > 4) return;
        const over = Math.min(one.right, other.right) - Math.max(one.left, other.left);
        if (over > 0.5) found.push(one.text + ' | ' + other.text + ': ' + over.toFixed(1) + ' px');
      }));
    }
  }
  return found;
})()`;

describe('on the sheets of all hymns, in the shipped fonts', () => {
  let browser: Browser;
  let engraver: SheetEngraver;
  beforeAll(async () => {
    browser = await launchChromium();
    const made = await makeEngraver();
    engraver = {
      ...made,
      setOptions: (o) => made.setOptions(o),
      loadData: (xml) => Boolean(made.loadData(xml)),
      getPageCount: () => made.getPageCount(),
      renderToSVG: (n) => made.renderToSVG(n),
    };
  });
  afterAll(() => browser.close());

  it.each(SHEETS)(
    'no two words and no two chords touch: $role at $width pixels, notes in $names',
    async ({ role, width, names }) => {
      const page = await browser.newPage({ viewport: { width, height: 820 } });
      const touching: Record<string, string[]> = {};
      for (const file of HYMN_FILES) {
        const score = hymn(file);
        const key = {
          ...(Keys.readKey('Bb') ?? { tonic: 'C' }),
          mode: score.keys[0]?.key.mode ?? 'major',
        };
        const player = { ...PLAYER, role, voice: VOICE, names };
        const built = Parts.build(score, { key, tempo: null, density: 'bar' }, player, {
          roles: ROLES,
        });
        if (!built.ok) throw new Error(`${file}: no part`);
        const engraved = Engraving.engrave(
          engraver,
          Sheets.request(built.value, { width, textScale: 1, verse: 1 }),
        );
        await page.setContent(
          `<style>${styles()}</style>${engraved.glyphs}${engraved.systems.map(({ svg }) => svg).join('')}`,
        );
        await page.evaluate('document.fonts.ready');
        // The bass has fewer notes than the tune, and the words of several under one.
        const least = role === 'bass' ? 7 : 20;
        expect(await page.locator('svg.system .syl text').count(), file).toBeGreaterThan(least);
        const found = (await page.evaluate(OVERLAPS)) as string[];
        if (found.length > 0) touching[file] = found;
      }
      await page.close();
      expect(touching).toEqual({});
    },
    240_000,
  );
});
