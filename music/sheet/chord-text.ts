import { RAISED } from '../pitch/chord-names.ts';
import type { SvgElement, SvgNode } from './svg-tree.ts';

/**
 * Advance widths of Source Sans 3 semi-bold in thousandths of the font size, for the signs a chord symbol is made
 * of (read from the font as shipped by @fontsource/source-sans-3 5.3.1).
 */
const ADVANCE: Readonly<Record<string, number>> = {
  A: 558, B: 597, C: 576, D: 625, E: 538, F: 510, G: 628, H: 663, L: 502, M: 745, N: 657, R: 592, S: 545, T: 546, I: 282,
  a: 516, b: 563, d: 564, e: 507, g: 520, i: 262, j: 263, l: 271, m: 843, n: 560, o: 549,
  p: 564, r: 373, s: 431, t: 361, u: 556, 0: 513, 1: 513, 2: 513, 3: 513, 4: 513,
  5: 513, 6: 513, 7: 513, 8: 513, 9: 513, '(': 324, ')': 324, '+': 513, '-': 322, '.': 275, ',': 275, '/': 344,
  ' ': 200,
}; // prettier-ignore

/**
 * Accidentals of the engraver's font: the text font as shipped has none. Glyph outlines are 1000 units to the em of
 * four staff spaces; `scale` makes a sharp about as tall as a capital.
 */
export const ACCIDENTAL: Readonly<
  Record<string, { glyph: string; advance: number; rise: number }>
> = {
  '♭': { glyph: 'E260', advance: 250, rise: 190 },
  '♯': { glyph: 'E262', advance: 280, rise: 330 },
  '♮': { glyph: 'E261', advance: 230, rise: 330 },
};
export const ACCIDENTAL_SCALE = 1.05;

/** The engraver writes accidentals as private signs of its music font, or as Unicode ones. */
function plain(text: string): string {
  return text
    .replace(/[\ue260\ued60\uea64]/g, '♭')
    .replace(/[\ue262\ued62\uea66]/g, '♯')
    .replace(/[\ue261\ued61\uea65]/g, '♮')
    .replace(/[\ue264\ued64\uea63]/g, '♭♭')
    .replace(/[\ue263\ued63\uea67]/g, '♯♯');
}

/** Glyphs that chord symbols need, whatever the music uses. */
export const CHORD_GLYPHS: Readonly<Record<string, string>> = {
  E260: 'M20 110c32 16 54 27 93 27c26 0 35 -3 54 -13c13 -7 24 -20 27 -38l4 -25c0 -28 -16 -57 -45 -89c-23 -25 -39 -44 -65 -68l-88 -79v644h20v-359zM90 106c-32 0 -48 -10 -70 -29v-194c31 31 54 59 71 84c21 32 32 59 32 84c0 9 1 16 1 20c0 14 -3 21 -11 30l-8 3z',
  E262: 'M136 186v169h17v-164l44 14v-91l-44 -14v-165l44 12v-91l-44 -13v-155h-17v150l-76 -22v-155h-17v149l-43 -13v90l43 14v167l-43 -14v92l43 13v169h17v-163zM60 73v-167l76 22v168z',
  E261: 'M0 -188v539h18v-191l139 22v-533h-17v186zM18 -100l122 17v176l-122 -19v-174z',
};

/** A raised figure after a degree: its size and how high it stands, in parts of the size (common practice). */
const RAISED_FIGURE = { size: 0.66, rise: 0.34 } as const;

const advanceOf = (text: string, size: number): number =>
  [...text].reduce((sum, sign) => sum + (size * (ADVANCE[sign] ?? 560)) / 1000, 0);

const textAt = (text: string, x: number, y: number): SvgElement => ({
  name: 'text',
  attributes: { x: String(Math.round(x)), y: String(Math.round(y)) },
  children: [text],
});

/** A chord symbol as text with drawn accidentals, set from its left edge. */
export function chordText(text: string, x: number, y: number, size: number): SvgNode[] {
  const nodes: SvgElement[] = [];
  let at = x;
  for (const run of plain(text).match(/[♭♯♮]|[⁰¹²³⁴-⁹]+|[^♭♯♮⁰¹²³⁴-⁹]+/gu) ?? []) {
    const accidental = ACCIDENTAL[run];
    if (accidental) {
      const scale = (size * ACCIDENTAL_SCALE) / 1000;
      nodes.push({
        name: 'use',
        attributes: {
          href: `#${accidental.glyph}`,
          transform: `translate(${Math.round(at + size * 0.03)},${Math.round(y - size * (accidental.rise / 1000))}) scale(${scale.toFixed(3)})`,
        },
        children: [],
      });
      at += (size * accidental.advance) / 1000;
      continue;
    }
    const figures = [...run].map((sign) => RAISED.indexOf(sign));
    if (!figures.includes(-1)) {
      const [small, high] = [size * RAISED_FIGURE.size, y - size * RAISED_FIGURE.rise];
      const figure = textAt(figures.join(''), at, high);
      const attributes = { 'font-size': String(Math.round(small)) };
      nodes.push({ name: 'g', attributes, children: [figure] });
      at += advanceOf(figures.join(''), small);
      continue;
    }
    nodes.push(textAt(run, at, y));
    at += advanceOf(run.replaceAll('&amp;', '&'), size);
  }
  return nodes;
}
