import type { SvgElement, SvgNode } from './svg-tree.ts';

/** Signs of the pedal by their names in SMuFL: pressed and released. */
const SIGNS = new Set(['#E650', '#E655']);
/** How high the higher of them stands over its line, in drawing units: 514 thousandths of an em, drawn at 0.72. */
const SIGN_HIGH = 370;
/** Room between a figure and the signs, in drawing units; a staff space has 180 (ours). */
const CLEAR = 45;

const placeOf = /translate\((-?[\d.]+), ?(-?[\d.]+)\)/;

function* elements(nodes: readonly SvgNode[]): Generator<SvgElement> {
  for (const node of nodes) {
    if (typeof node === 'string') continue;
    yield node;
    yield* elements(node.children);
  }
}

const isSign = ({ name, attributes }: SvgElement): boolean =>
  name === 'use' && SIGNS.has(attributes['href'] ?? '');

const lineOf = (sign: SvgElement): number =>
  Number(placeOf.exec(sign.attributes['transform'] ?? '')?.[2] ?? 0);

/** Where the lowest figure of fingers below the staves stands, in drawing units. */
function lowestFigure(body: readonly SvgNode[]): number {
  const figures = [...elements(body)].filter(({ attributes }) => attributes['class'] === 'fing');
  const places = figures.flatMap(({ children }) =>
    [...elements(children)].map(({ attributes }) => Number(attributes['y'] ?? 0)),
  );
  return Math.max(0, ...places);
}

function moved(node: SvgNode, line: number): SvgNode {
  if (typeof node === 'string') return node;
  if (!isSign(node)) return { ...node, children: node.children.map((each) => moved(each, line)) };
  const transform = (node.attributes['transform'] ?? '').replace(
    placeOf,
    (_, x: string) => `translate(${x}, ${String(line)})`,
  );
  return { ...node, attributes: { ...node.attributes, transform } };
}

/**
 * The signs of the pedal on one line, clear of the figures above it, which are printed larger than the engraver thinks.
 * @param body a tidied system, in drawing units
 * @returns by how much the drawing becomes higher
 */
export function withPedalRow(body: readonly SvgNode[]): { body: readonly SvgNode[]; down: number } {
  const lines = [...elements(body)].filter(isSign).map(lineOf);
  if (lines.length === 0) return { body, down: 0 };
  const lowest = Math.max(...lines);
  const line = Math.max(lowest, lowestFigure(body) + CLEAR + SIGN_HIGH);
  return { body: body.map((node) => moved(node, line)), down: line - lowest };
}
