import { beforeAll, describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import { build } from '../parts/parts.ts';
import { engrave } from './engrave.ts';
import type { Engraver } from './engraver.ts';
import type { PageRequest } from './page.ts';
import { request } from './sheet.ts';

interface Box {
  readonly what: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const HYMNS = ['Be_Thou_My_Vision-Slane.abc', 'Holy_Holy_Holy-Nicaea.abc'];
/** A tablet, a phone, and the room on A4 with the sizes that it is printed in. */
const PAGES: readonly (readonly [string, PageRequest])[] = [
  ['tablet', { width: 1180, textScale: 1, verse: null }],
  ['phone', { width: 390, textScale: 1, verse: null }],
  ['A4', { width: 593, textScale: 1, verse: null, paper: { words: 16, staffSpace: 7.18 } }],
];

/** Figures in Source Serif 4 Italic, of their size; signs in Leipzig, in drawing units (bounding boxes of the fonts). */
const FIGURE = { wide: 0.51, high: 0.66 } as const;
const SIGN: Readonly<Record<string, readonly [wide: number, high: number]>> = {
  E650: [500, 370],
  E655: [310, 301],
};

function figuresIn(svg: string): Box[] {
  const found = svg.matchAll(/class="fing" font-size="(\d+)"><text x="(-?\d+)" y="(-?\d+)"/g);
  return [...found].map(([, size, x, y]): Box => {
    const [left, bottom] = [Number(x), Number(y)];
    const right = left + FIGURE.wide * Number(size);
    return { what: 'figure', left, right, bottom, top: bottom - FIGURE.high * Number(size) };
  });
}

function signsIn(svg: string): Box[] {
  const found = svg.matchAll(/href="#(E65[05])" transform="translate\((-?\d+), (-?\d+)\)/g);
  return [...found].map(([, sign = '', x, y]): Box => {
    const [left, bottom] = [Number(x), Number(y)];
    const [wide, high] = SIGN[sign] ?? [0, 0];
    return { what: sign, left, right: left + wide, bottom, top: bottom - high };
  });
}

const lowestLine = (svg: string): number =>
  Math.max(...[...svg.matchAll(/d="M-?\d+ (\d+) L-?\d+ \1"/g)].map(([, y]) => Number(y)));
const highOf = (svg: string): number => Number(/viewBox="\S+ \S+ \S+ (\S+)"/.exec(svg)?.[1]);
const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

describe.each(HYMNS)('Signs of the pedal in %s', (file) => {
  let engraver: Engraver;
  const score = hymn(file);
  const player = { id: 'p', name: 'Ines', role: 'keys', level: 'advanced', reach: 12 } as const;
  const built = build(
    score,
    {
      key: score.keys[0]?.key ?? { tonic: 'C', mode: 'major' },
      tempo: null,
      density: 'beat',
      form: score.form.map((pass) => ({ ...pass, texture: 'every beat' as const })),
    },
    { ...player, rungs: { right: 4, left: 4, pedal: 1 } },
    { roles: [] },
  );
  beforeAll(async () => {
    engraver = (await makeEngraver()) as unknown as Engraver;
  });

  it.each(PAGES)('stand on one line under the lowest staff, clear of figures: %s', (_, page) => {
    if (!built.ok) throw new Error(JSON.stringify(built.problems));
    const { systems } = engrave(engraver, request(built.value, page));
    const drawn = systems.map(({ svg }) => ({
      signs: signsIn(svg),
      figures: figuresIn(svg),
      staff: lowestLine(svg),
      high: highOf(svg),
    }));
    expect(drawn.flatMap(({ signs }) => signs).length).toBeGreaterThan(20);
    for (const { signs, figures, staff, high } of drawn) {
      expect(new Set(signs.map(({ bottom }) => bottom)).size).toBeLessThanOrEqual(1);
      for (const sign of signs) {
        expect(sign.top).toBeGreaterThan(staff);
        expect(sign.bottom).toBeLessThan(high);
        expect(figures.filter((figure) => meet(sign, figure))).toEqual([]);
      }
    }
  });
});
