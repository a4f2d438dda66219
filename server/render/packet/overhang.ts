import { parseSvg, type SvgNode } from '#music';

/** How far letters and figures reach from the line they stand on, against their size: up with an accidental, and down. */
const [UP, DOWN] = [0.75, 0.22];

interface Reach {
  readonly top: number;
  readonly bottom: number;
}

/** Highest and lowest point of the texts, in the drawing's unit; groups are only moved, as the engraver writes them. */
function reachOf(node: SvgNode, down: number, size: number): Reach {
  if (typeof node === 'string') return { top: Infinity, bottom: -Infinity };
  const { attributes, children, name } = node;
  if (name === 'text') {
    const y = down + Number(attributes['y'] ?? 0);
    return { top: y - UP * size, bottom: y + DOWN * size };
  }
  const moved = /translate\([-\d.]+[, ]+(-?[\d.]+)\)/.exec(attributes['transform'] ?? '')?.[1];
  const own = Number(attributes['font-size'] ?? size);
  const all = children.map((child) => reachOf(child, down + Number(moved ?? 0), own));
  return {
    top: Math.min(...all.map(({ top }) => top)),
    bottom: Math.max(...all.map(({ bottom }) => bottom)),
  };
}

/**
 * How far the texts of an engraved system stand out of it, as a share of its height: its bar number stands above it.
 * @param svg a system as `#music` draws it
 */
export function overhang(svg: string): { readonly above: number; readonly below: number } {
  const root = parseSvg(svg);
  const [, from = 0, , high = 1] = (root.attributes['viewBox'] ?? '').split(' ').map(Number);
  const { top, bottom } = reachOf(root, 0, 0);
  return {
    above: Math.max(0, from - top) / high,
    below: Math.max(0, bottom - from - high) / high,
  };
}
