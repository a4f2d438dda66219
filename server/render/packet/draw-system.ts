import { parseSvg, type SvgElement, type SvgNode } from '#music';
import { PIXEL } from './paper.ts';
import { COLOURS, type Colour, type Ink, type Style } from './ink.ts';

/** Outlines of an engraving by name, from its hidden drawing of glyphs. */
export function outlinesOf(glyphs: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const [, name = '', path = ''] of glyphs.matchAll(/<path id="(\w+)"[^>]*? d="([^"]*)"/g)) {
    found.set(name, path);
  }
  return found;
}

/** What an element takes from those round it, as `web/style/music.css` says it for a screen. */
interface Inherited {
  readonly face: Style['face'];
  readonly colour: Colour;
  readonly size: number;
}

const CLASSES: Readonly<Record<string, Partial<Inherited>>> = {
  harm: { face: 'bold' },
  mNum: { face: 'sans', colour: 'faint' },
  tempo: { face: 'sans' },
  ending: { face: 'sans' },
  fing: { face: 'italic', colour: 'rubric' },
  dir: { face: 'italic', colour: 'rubric' },
};

const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
};

function plain(text: string): string {
  return text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex, decimal, name) => {
    if (hex !== undefined) return String.fromCodePoint(Number.parseInt(String(hex), 16));
    if (decimal !== undefined) return String.fromCodePoint(Number(decimal));
    return ENTITIES[String(name)] ?? whole;
  });
}

const number = ({ attributes }: SvgElement, name: string): number => Number(attributes[name] ?? 0);

/** A path from one point to another. */
function isLine(path = ''): boolean {
  return /^M[-\d., ]+L[-\d., ]+$/.test(path);
}

/** Draws the drawing's own unit in what is drawn in now. */
class Pen {
  readonly #ink: Ink;
  readonly #outlines: ReadonlyMap<string, string>;

  constructor(ink: Ink, outlines: ReadonlyMap<string, string>) {
    this.#ink = ink;
    this.#outlines = outlines;
  }

  draw(node: SvgNode, from: Inherited): void {
    if (typeof node === 'string') return;
    const { name, attributes, children } = node;
    if (name === 'text') {
      this.#text(node, from);
      return;
    }
    if (name === 'g' || name === 'svg') {
      const own = CLASSES[attributes['class'] ?? ''] ?? {};
      const size = attributes['font-size'] ? Number(attributes['font-size']) : from.size;
      const inherited = { ...from, ...own, size };
      this.#moved(attributes['transform'], () => {
        for (const child of children) this.draw(child, inherited);
      });
      return;
    }
    this.#moved(attributes['transform'], () => this.#shape(node, from));
  }

  #text(node: SvgElement, { face, colour, size }: Inherited): void {
    const text = plain(node.children.filter((child) => typeof child === 'string').join(''));
    const style = { face, colour, size };
    const isMiddle = node.attributes['text-anchor'] === 'middle';
    const x = number(node, 'x') - (isMiddle ? this.#ink.width(text, style) / 2 : 0);
    this.#ink.write(text, x, number(node, 'y'), style);
  }

  /** `translate(x, y)`, `scale(x, y)`, `rotate(degrees x y)`, one after another (SVG 1.1, 7.6). */
  #moved(transform: string | undefined, draw: () => void): void {
    if (transform === undefined) {
      draw();
      return;
    }
    const { doc } = this.#ink;
    doc.save();
    for (const [, kind, list = ''] of transform.matchAll(/(\w+)\(([^)]*)\)/g)) {
      const [a = 0, b = a, c] = list.split(/[\s,]+/).filter(Boolean).map(Number); // prettier-ignore
      if (kind === 'translate')
        doc.translate(a, list.trim().includes(' ') || list.includes(',') ? b : 0); // prettier-ignore
      else if (kind === 'scale') doc.transform(a, 0, 0, b, 0, 0);
      else if (kind === 'rotate') doc.rotate(a, c === undefined ? {} : { origin: [b, c] });
      else throw new Error(`the drawing has a ${kind ?? ''} that is not known`);
    }
    draw();
    doc.restore();
  }

  #shape(node: SvgElement, { colour }: Inherited): void {
    const { doc } = this.#ink;
    const { name, attributes } = node;
    doc.fillColor(COLOURS[colour]).strokeColor(COLOURS[colour]);
    if (name === 'use') {
      const key = (attributes['href'] ?? '').slice(1);
      const path = this.#outlines.get(key);
      if (path === undefined) throw new Error(`the drawing has no outline ${key}`);
      doc.transform(1, 0, 0, -1, 0, 0);
      this.#ink.outline(key, path);
      return;
    }
    this.#trace(node);
    // A straight line has nothing to fill; filled, some readers draw it longer.
    const isFilled = attributes['fill'] !== 'none' && !isLine(attributes['d']);
    const width = attributes['stroke-width'];
    const thick = width === undefined ? 1 : Number(width);
    doc.lineWidth(thick);
    doc.lineCap(attributes['stroke-linecap'] === 'round' ? 'round' : 'butt');
    doc.lineJoin(attributes['stroke-linejoin'] === 'round' ? 'round' : 'miter');
    const dashes = attributes['stroke-dasharray'];
    if (dashes) doc.dash(...dashArguments(dashes));
    if (isFilled) doc.fillAndStroke();
    else doc.stroke();
    if (dashes) doc.undash();
  }

  #trace(node: SvgElement): void {
    const { doc } = this.#ink;
    const { name, attributes } = node;
    switch (name) {
      case 'path':
        doc.path(attributes['d'] ?? '');
        return;
      case 'rect':
        doc.rect(number(node, 'x'), number(node, 'y'), number(node, 'width'), number(node, 'height')); // prettier-ignore
        return;
      case 'ellipse':
        doc.ellipse(number(node, 'cx'), number(node, 'cy'), number(node, 'rx'), number(node, 'ry'));
        return;
      case 'circle':
        doc.circle(number(node, 'cx'), number(node, 'cy'), number(node, 'r'));
        return;
      case 'line':
        doc.moveTo(number(node, 'x1'), number(node, 'y1')).lineTo(number(node, 'x2'), number(node, 'y2')); // prettier-ignore
        return;
      case 'polygon':
      case 'polyline': {
        const points = (attributes['points'] ?? '').trim().split(/\s+/);
        points.forEach((point, index) => {
          const [x = 0, y = 0] = point.split(',').map(Number);
          if (index === 0) doc.moveTo(x, y);
          else doc.lineTo(x, y);
        });
        if (name === 'polygon') doc.closePath();
        return;
      }
      default:
        throw new Error(`the drawing has a ${name} that is not known`);
    }
  }
}

function dashArguments(list: string): [number, { space: number }] {
  const [length = 1, space = length] = list.split(/[\s,]+/).map(Number);
  return [length, { space }];
}

/**
 * Draws an engraved system with its top left corner at a place, in points; `scale` beside that of a CSS pixel.
 * @throws Error where it holds something that no engraving has
 */
export function drawSystem(
  ink: Ink,
  svg: string,
  outlines: ReadonlyMap<string, string>,
  { x, y, scale = 1 }: { readonly x: number; readonly y: number; readonly scale?: number },
): void {
  const root = parseSvg(svg);
  const [left = 0, top = 0, wide = 1] = (root.attributes['viewBox'] ?? '').split(' ').map(Number);
  const unit = ((Number(root.attributes['width']) * PIXEL) / wide) * scale;
  const { doc } = ink;
  doc.save().transform(unit, 0, 0, unit, x - left * unit, y - top * unit);
  new Pen(ink, outlines).draw(root, { face: 'serif', colour: 'ink', size: 400 });
  doc.restore();
}
