import type { SvgElement, SvgNode } from './svg-tree.ts';

/** The notes of a metronome's mark as the engraver writes them, in a font that no page has (SMuFL 1.4, metronome marks). */
const NOTES: Readonly<Record<string, { readonly open: boolean; readonly stem: boolean; readonly flags: number }>> = {
  '\uECA2': { open: true, stem: false, flags: 0 },
  '\uECA3': { open: true, stem: true, flags: 0 },
  '\uECA5': { open: false, stem: true, flags: 0 },
  '\uECA7': { open: false, stem: true, flags: 1 },
  '\uECA9': { open: false, stem: true, flags: 2 },
}; // prettier-ignore
const DOT = '\uECB7';

/** The drawing of a note, as the heading of a sheet has it: its box, and where its head stands on the line of the text. */
const [WIDE, PER_DOT, HIGH, LINE] = [15, 5, 24, 22.5];
/** How high a note is beside its figures. */
const HEIGHT = 1.15;

const shape = (name: string, attributes: Record<string, string>): SvgElement => ({
  name,
  attributes,
  children: [],
});
const LINE_ONLY = { fill: 'none', stroke: 'currentColor', 'stroke-width': '1.5' } as const;

function noteShapes(sign: string, dots: number): SvgElement[] {
  const { open, stem, flags } = NOTES[sign] ?? { open: false, stem: true, flags: 0 };
  const head = {
    cx: '5.4',
    cy: '20',
    rx: '4.4',
    ry: '3.1',
    transform: 'rotate(-22 5.4 20)',
    'stroke-width': '0.5',
  };
  return [
    shape('ellipse', open ? { ...head, ...LINE_ONLY } : head),
    ...(stem ? [shape('path', { d: 'M9.4 19V2', ...LINE_ONLY })] : []),
    ...(flags > 0 ? [shape('path', { d: 'M9.4 2c.6 4 4.6 4.6 3.8 9', ...LINE_ONLY })] : []),
    ...(flags > 1 ? [shape('path', { d: 'M9.4 6.4c.6 4 4.6 4.6 3.8 9', ...LINE_ONLY })] : []),
    ...Array.from({ length: dots }, (_, i) =>
      shape('ellipse', {
        cx: String(13.5 + PER_DOT * i),
        cy: '19',
        rx: '1.5',
        ry: '1.5',
        'stroke-width': '0.5',
      }),
    ),
  ];
}

/** `♩. = 60` with its note drawn, set from its left edge; other texts of a tempo as they are. */
export function tempoText(content: string, x: number, y: number, size: number): SvgNode[] {
  const text = content.trim();
  const sign = text.charAt(0);
  const isNote = sign in NOTES;
  const rest = isNote ? text.slice(1) : text;
  const dots = [...rest].filter((each) => each === DOT).length;
  const words = rest
    .replace(/[\uE000-\uF8FF]/gu, '')
    .replace(/\s+/gu, ' ')
    .trim();
  const scale = (size * HEIGHT) / HIGH;
  const at = isNote ? x + (WIDE + PER_DOT * dots) * scale : x;
  const drawn: SvgElement = {
    name: 'g',
    attributes: { transform: `translate(${x},${Math.round(y - LINE * scale)}) scale(${scale.toFixed(3)})` }, // prettier-ignore
    children: noteShapes(sign, dots),
  };
  const written: SvgElement = {
    name: 'text',
    attributes: { x: String(Math.round(at)), y: String(y) },
    children: [words],
  };
  return isNote ? [drawn, written] : [written];
}
