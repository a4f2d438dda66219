import { CHORD_GLYPHS, chordText } from './chord-text.ts';
import {
  descendants,
  parseSvg,
  textOf,
  writeSvg,
  type SvgElement,
  type SvgNode,
} from './svg-tree.ts';
import { BLEED, type textSizes } from './engraver.ts';
import { withPedalRow } from './pedal-row.ts';
import { tempoText } from './tempo-text.ts';

/** One system as it is put on the page. */
export interface TidySystem {
  /** A whole `<svg>`; its `use` elements point at the glyphs of the sheet, which the page holds once. */
  readonly svg: string;
  /** CSS pixels. */
  readonly width: number;
  readonly height: number;
  /** Indexes of its first and last bar in the score. */
  readonly from: number;
  readonly to: number;
}

export interface TidySheet {
  readonly systems: readonly TidySystem[];
  /** Glyph name → outline. */
  readonly glyphs: ReadonlyMap<string, string>;
}

/** Groups that style or tests address; every other group is opened, but for notes that are to be found (`places`). */
const KEPT = new Set([
  'measure',
  'staff',
  'harm',
  'fing',
  'dir',
  'syl',
  'mNum',
  'tempo',
  'ending',
  'barLine',
]);
/** Texts by class: their size, and whether they stand on their middle. */
const TEXT_SIZE: Readonly<
  Record<string, Exclude<keyof ReturnType<typeof textSizes>, 'aside' | 'bottom' | 'lifted'>>
> = {
  syl: 'words',
  harm: 'chords',
  fing: 'fingers',
  dir: 'fingers',
  mNum: 'numbers',
  ending: 'numbers',
  tempo: 'fingers',
};

/**
 * Figures below a staff are printed larger than the engraver thinks; moved down by this share of their size they
 * clear stems and lines.
 */
const LOWERED = 0.26;

/** Shorter extenders are left out: a share of the words' size. A hyphen is longer: 0.51 of it on a screen, 0.38 on paper. */
const EXTENDER_STUB = 0.35;

type Sizes = ReturnType<typeof textSizes>;

function round(value: string): string {
  return value.replace(/-?\d+\.\d+/g, (number) => String(Math.round(Number(number) * 1000) / 1000));
}

function textNodes(element: SvgElement, kind: string, sizes: Sizes, bottom: number): SvgNode[] {
  const content = textOf(element);
  if (content.trim() === '') return [];
  // The engraver puts the place on the text or, for a second line, on a tspan.
  const x = Number(element.attributes['x'] ?? 0);
  const given = Number(element.attributes['y'] ?? 0);
  const away = given > bottom ? LOWERED : -sizes.lifted;
  const y = Math.round(kind === 'fing' ? given + sizes.fingers * away : given);
  // A stem that goes up stands right of its note, one that goes down left of it.
  const aside = kind === 'fing' ? (given > bottom ? sizes.aside : -sizes.aside) : 0;
  if (kind === 'harm') return chordText(content, x, y, sizes.chords);
  if (kind === 'tempo') return tempoText(content, x, y, sizes.fingers);
  const attributes: Record<string, string> = { x: String(x + aside), y: String(y) };
  const anchor = element.attributes['text-anchor'];
  if (anchor) attributes['text-anchor'] = anchor;
  return [{ name: 'text', attributes, children: [content] }];
}

/** An extender so short that it reads as a full stop after its word. Extenders are thin and lie on the line of the words. */
function isStub({ attributes }: SvgElement, sizes: Sizes): boolean {
  return Number(attributes['width'] ?? 0) < sizes.words * EXTENDER_STUB;
}

function tidyNode(node: SvgNode, kind: string, sizes: Sizes, bottom: number): SvgNode[] {
  if (typeof node === 'string') return [];
  const { name, attributes } = node;
  if (name === 'text') return textNodes(node, kind, sizes, bottom);
  if (name === 'use') {
    const glyph = (attributes['href'] ?? attributes['xlink:href'] ?? '').replace(
      /^#([^-]+).*/,
      '#$1',
    );
    return [
      {
        name,
        attributes: { href: glyph, transform: round(attributes['transform'] ?? '') },
        children: [],
      },
    ];
  }
  if (kind === 'syl' && name === 'rect' && isStub(node, sizes)) return [];
  if (name !== 'g') {
    const kept = Object.fromEntries(Object.entries(attributes).filter(([key]) => key !== 'id'));
    return [
      {
        name,
        attributes: kept,
        children: node.children.flatMap((child) => tidyNode(child, kind, sizes, bottom)),
      },
    ];
  }
  // Of a note that is not to be seen only its words are.
  if (attributes['visibility'] === 'hidden')
    return [...descendants(node)]
      .filter((each) => each.attributes['class'] === 'verse')
      .flatMap((verse) => tidyNode(verse, kind, sizes, bottom));
  const classes = (attributes['class'] ?? '').split(' ');
  const own = classes.find((each) => KEPT.has(each));
  const children = node.children.flatMap((child) => tidyNode(child, own ?? kind, sizes, bottom));
  if (children.length === 0) return [];
  const bar = /^bar-(\d+)$/.exec(attributes['id'] ?? '')?.[1];
  const transform = attributes['transform'];
  const moved = transform !== undefined && !/^translate\(0,? ?0\)$/.test(transform);
  const place = /^at-(\d+)-(\d+)$/.exec(attributes['id'] ?? '');
  if (!own && !moved && !place) return children;
  const kept: Record<string, string> = {};
  if (own) kept['class'] = own;
  if (own && TEXT_SIZE[own]) kept['font-size'] = String(Math.round(sizes[TEXT_SIZE[own]]));
  if (own === 'measure' && bar !== undefined) kept['data-bar'] = bar;
  if (place) {
    const [, voice = '', at = ''] = place;
    Object.assign(kept, { class: 'place', 'data-voice': voice, 'data-at': at });
  }
  if (moved) kept['transform'] = round(transform);
  return [{ name: 'g', attributes: kept, children }];
}

/** The lowest line of the lowest staff, in drawing units. */
function lowestStaffLine(drawing: SvgElement): number {
  let lowest = 0;
  for (const element of descendants(drawing)) {
    if (element.attributes['class'] !== 'staff') continue;
    for (const child of element.children) {
      if (typeof child === 'string' || child.name !== 'path') continue;
      const y = /^M-?\d+ (-?\d+) L-?\d+ \1$/.exec(child.attributes['d'] ?? '')?.[1];
      if (y !== undefined) lowest = Math.max(lowest, Number(y));
    }
  }
  return lowest;
}

/** Where each bar of a drawing begins and ends, in the engraver's drawing coordinates, by index in the score. */
export function barEdges(svg: string): Map<number, { from: number; to: number }> {
  const edges = new Map<number, { from: number; to: number }>();
  for (const element of descendants(parseSvg(svg))) {
    const bar = /^bar-(\d+)$/.exec(element.attributes['id'] ?? '')?.[1];
    if (bar === undefined || element.attributes['class'] !== 'measure') continue;
    for (const line of descendants(element)) {
      const staffLine = /^M(-?\d+) (-?\d+) L(-?\d+) \2$/.exec(line.attributes['d'] ?? '');
      if (line.name !== 'path' || !staffLine) continue;
      edges.set(Number(bar), { from: Number(staffLine[1]), to: Number(staffLine[3]) });
      break;
    }
  }
  return edges;
}

/**
 * The engraver's pages as light systems: no ids, no style, glyph outlines gathered for the whole sheet, texts with
 * a class and the printed size, chord accidentals drawn.
 * @param pages one system each
 * @param pixel CSS pixels of one unit of the drawing
 */
export function tidy(pages: readonly string[], sizes: Sizes, pixel: number): TidySheet {
  const glyphs = new Map<string, string>();
  const systems = pages.map((page): TidySystem => {
    const root = parseSvg(page);
    const drawing = [...descendants(root)].find(
      ({ name, attributes }) => name === 'svg' && attributes['class'] === 'definition-scale',
    );
    if (!drawing) throw new SyntaxError('the engraver drew no page');
    for (const element of descendants(root)) {
      const glyph = /^(E[0-9A-F]{3})-/.exec(element.attributes['id'] ?? '')?.[1];
      const outline = element.children[0];
      if (!glyph || !outline || typeof outline === 'string') continue;
      glyphs.set(glyph, outline.attributes['d'] ?? '');
    }
    const bars = [...barEdges(page).keys()];
    const [, , width = 0, height = 0] = (drawing.attributes['viewBox'] ?? '')
      .split(' ')
      .map(Number);
    const bottom = lowestStaffLine(drawing);
    const tidied = drawing.children.flatMap((child) => tidyNode(child, '', sizes, bottom));
    const { body, down } = withPedalRow(tidied);
    const wide = width + BLEED.left + BLEED.right;
    const high = height + down + sizes.bottom;
    const svg = writeSvg({
      name: 'svg',
      attributes: {
        class: 'system',
        viewBox: `${-BLEED.left} 0 ${wide} ${high}`,
        width: (wide * pixel).toFixed(1),
        height: (high * pixel).toFixed(1),
      },
      children: body,
    });
    return {
      svg,
      width: Math.round(wide * pixel * 10) / 10,
      height: Math.round(high * pixel * 10) / 10,
      from: Math.min(...bars),
      to: Math.max(...bars),
    };
  });
  const used = new Set(
    systems.flatMap(({ svg }) => [...svg.matchAll(/href="#(\w+)"/g)].map((match) => match[1])),
  );
  for (const [name, outline] of Object.entries(CHORD_GLYPHS)) {
    if (used.has(name) && !glyphs.has(name)) glyphs.set(name, outline);
  }
  return { systems, glyphs };
}

/** The glyphs of a sheet as one hidden drawing that the page holds before its systems. */
export function glyphSheet(glyphs: ReadonlyMap<string, string>): string {
  const outlines = [...glyphs]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, outline]) => `<path id="${name}" transform="scale(1,-1)" d="${outline}"/>`);
  return `<svg class="glyphs" width="0" height="0" aria-hidden="true"><defs>${outlines.join('')}</defs></svg>`;
}
