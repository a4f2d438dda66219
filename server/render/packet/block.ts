import type { Extent } from './break-pages.ts';
import type { Ink, Style } from './ink.ts';

/** Something that is put on a page whole. */
export interface Block extends Extent {
  /** @param x left of the column @param y its top */
  readonly draw: (x: number, y: number) => void;
  /** It may stand at the foot of an earlier page, where that spares it a page of its own. */
  readonly floats: boolean;
}

export type Facts = Partial<
  Pick<Block, 'gap' | 'least' | 'keeps' | 'turns' | 'isMusic' | 'floats'>
>;

export function block(height: number, draw: Block['draw'], facts: Facts = {}): Block {
  const { gap = 0, least = gap } = facts;
  return {
    height,
    draw,
    keeps: false,
    turns: false,
    isMusic: false,
    floats: false,
    ...facts,
    gap,
    least,
  };
}

/** A line of text, as a share of its size from its top to the line it stands on, and to the next. */
export const RISE = 0.95;
export const LINE = 1.28;

/** Words as lines that are no wider than a room; a word that is wider alone is cut between its letters. */
export function wrap(ink: Ink, text: string, room: number, style: Style): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/u).filter((each) => each !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (ink.width(longer, style) <= room) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
    while (ink.width(line, style) > room) {
      const part = longestPart(ink, line, room, style);
      lines.push(line.slice(0, part));
      line = line.slice(part);
    }
  }
  return line === '' ? lines : [...lines, line];
}

/** How much of a word fits, at least one letter with its marks. */
function longestPart(ink: Ink, word: string, room: number, style: Style): number {
  const letters = [...new Intl.Segmenter('und').segment(word)].map(({ segment }) => segment);
  let part = letters[0] ?? word;
  for (const letter of letters.slice(1)) {
    if (ink.width(part + letter, style) > room) break;
    part += letter;
  }
  return part.length;
}

/** Text in lines; its height, and how it is drawn from its top left. */
export function paragraph(
  ink: Ink,
  text: string,
  room: number,
  style: Style,
): { readonly height: number; readonly lines: number; readonly draw: Block['draw'] } {
  const lines = wrap(ink, text, room, style);
  const step = style.size * LINE;
  return {
    height: lines.length * step,
    lines: lines.length,
    draw: (x, y) =>
      lines.forEach((line, index) => ink.write(line, x, y + style.size * RISE + index * step, style)), // prettier-ignore
  };
}

/** Text as a block for each line, so that a page can end inside it; its first two and last two lines stay together. */
export function textBlocks(
  ink: Ink,
  text: string,
  room: number,
  style: Style,
  { gap = 0, least = gap }: Facts = {},
): Block[] {
  const lines = wrap(ink, text, room, style);
  return lines.map((line, index) =>
    block(style.size * LINE, (x, y) => void ink.write(line, x, y + style.size * RISE, style), {
      gap: index === 0 ? gap : 0,
      least: index === 0 ? least : 0,
      keeps: index < lines.length - 1 && (index === 0 || index === lines.length - 2),
    }),
  );
}

/** Text, with something drawn before it. */
export interface Piece {
  readonly text: string;
  readonly style: Style;
  readonly sign?: { readonly width: number; readonly draw: (x: number, baseline: number) => void };
}

/** Texts under each other. */
export interface Column {
  readonly height: number;
  readonly draw: (x: number, y: number) => void;
}

/** Pieces of text under each other, each smaller where its longest word is wider than the room. */
export function columnOf(ink: Ink, pieces: readonly Piece[], room: number): Column {
  const parts = pieces
    .filter(({ text }) => text !== '')
    .map(({ text, style }) => paragraph(ink, text, room, fitted(ink, text, room, style)));
  return {
    height: parts.reduce((sum, { height }) => sum + height, 0),
    draw: (x, y) => {
      let top = y;
      for (const part of parts) {
        part.draw(x, top);
        top += part.height;
      }
    },
  };
}

/** Smaller where its longest word is wider than the room. */
function fitted(ink: Ink, text: string, room: number, style: Style): Style {
  const widest = Math.max(...text.split(' ').map((word) => ink.width(word, style)));
  return widest <= room ? style : { ...style, size: (style.size * room) / (widest + 0.1) };
}

interface Part extends Piece {
  readonly x: number;
}

interface Row {
  readonly height: number;
  readonly parts: readonly Part[];
}

function rowsOf(ink: Ink, pieces: readonly Piece[], room: number, between: number): Row[] {
  const rows: Row[] = [];
  let at = Infinity;
  for (const { text, style, sign } of pieces) {
    const before = sign?.width ?? 0;
    const width = before + ink.width(text, style);
    const height = style.size * LINE;
    const last = rows.at(-1);
    if (last && at + width <= room) {
      const part = { x: at, text, style, ...(sign && { sign }) };
      rows[rows.length - 1] = {
        height: Math.max(last.height, height),
        parts: [...last.parts, part],
      };
      at += width + between;
      continue;
    }
    const lines = wrap(ink, text, room - before, style);
    lines.forEach((line, index) => {
      const part = { x: 0, text: line, style, ...(index === 0 && sign && { sign }) };
      rows.push({ height, parts: [part] });
    });
    at = (lines.length > 1 ? 0 : before) + ink.width(lines.at(-1) ?? '', style) + between;
  }
  return rows;
}

/**
 * Pieces of text beside each other, each whole where it fits on the line with those before it, else in lines of its own.
 * @param between room between two pieces of one line
 */
export function flow(
  ink: Ink,
  pieces: readonly Piece[],
  room: number,
  between: number,
): { readonly height: number; readonly draw: Block['draw'] } {
  const said = pieces.filter(({ text }) => text !== '');
  const rows = rowsOf(ink, said, room, between);
  return {
    height: rows.reduce((sum, row) => sum + row.height, 0),
    draw: (x, y) => {
      let top = y;
      for (const { height, parts } of rows) {
        const baseline = top + (height / LINE) * RISE;
        for (const { x: from, text, style, sign } of parts) {
          sign?.draw(x + from, baseline);
          ink.write(text, x + from + (sign?.width ?? 0), baseline, style);
        }
        top += height;
      }
    },
  };
}
