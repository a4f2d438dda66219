import { COPYING, type Sheet, type TextVerse, type WordsSheet } from '#music';
import { block, LINE, paragraph, RISE, textBlocks, wrap, type Block } from './block.ts';
import { signed } from './heading.ts';
import type { Ink, Style } from './ink.ts';
import type { Desk } from './pages.ts';
import { MM } from './paper.ts';

/** Points on usual paper. */
const SIZE = { verse: 11, said: 9.5, small: 9, copying: 7.5 } as const;
/** Before a verse its number. */
const NUMBER = 6 * MM;
const BETWEEN = 8 * MM;
/** Narrower verses have more lines that go on below; they stand so only where all of them take less by so much. */
const MUCH_LESS = 0.9;
const FIRST = { gap: 4 * MM, least: 2.5 * MM } as const;
const NEXT = { gap: 2.5 * MM, least: 1.5 * MM } as const;

/** One verse as text, with its number. */
function verseText({ ink, layout: { text } }: Desk, { number, lines }: TextVerse, room: number) {
  const style = { face: 'serif', size: SIZE.verse * text } as const;
  const parts = lines.map((line) => paragraph(ink, line, room - NUMBER * text, style));
  return {
    height: parts.reduce((sum, { height }) => sum + height, 0),
    draw: (x: number, y: number): void => {
      ink.write(String(number), x, y + style.size * RISE, { face: 'sans', size: style.size });
      let top = y;
      for (const part of parts) {
        part.draw(x + NUMBER * text, top);
        top += part.height;
      }
    },
  };
}

/** Verses in rows of so many, each row as high as its highest. */
function verseRows(desk: Desk, verses: readonly TextVerse[], many: number) {
  const room = (desk.layout.column - BETWEEN * (many - 1)) / many;
  const rows = Array.from({ length: Math.ceil(verses.length / many) }, (_, row) =>
    verses.slice(row * many, (row + 1) * many).map((verse) => verseText(desk, verse, room)),
  );
  const heights = rows.map((row) => Math.max(...row.map(({ height }) => height)));
  return { rows, heights, room, all: heights.reduce((sum, each) => sum + each, 0) };
}

/** The verses that do not stand under the notes: two beside each other, three where that takes less; in large print one or two. */
export function verseBlocks(desk: Desk, verses: readonly TextVerse[]): Block[] {
  const usual = desk.layout.text > 1 ? 1 : 2;
  const [wide, narrow] = [verseRows(desk, verses, usual), verseRows(desk, verses, usual + 1)];
  const { rows, heights, room } = narrow.all < wide.all * MUCH_LESS ? narrow : wide;
  return rows.map((row, index) =>
    block(
      heights[index] ?? 0,
      (x, y) => row.forEach((verse, place) => verse.draw(x + place * (room + BETWEEN), y)),
      { ...(index === 0 ? FIRST : NEXT), turns: true },
    ),
  );
}

/** A line of the end of a sheet. */
interface Line {
  readonly words: string;
  readonly style: Style;
  /** Free above it: it begins a paragraph. */
  readonly gap: number;
  /** It is the second of its paragraph, or the last: a column does not end before it. */
  readonly stays: boolean;
}

function linesOf(ink: Ink, said: readonly Said[], room: number): Line[] {
  return said.flatMap(([words, style]) =>
    wrap(ink, words, room, style).map((line, index, { length }): Line => {
      const gap = index === 0 ? (LINE - 1) * style.size : 0;
      return { words: line, style, gap, stays: index > 0 && (index === 1 || index === length - 1) };
    }),
  );
}

const highOf = (lines: readonly Line[]): number =>
  lines.reduce((sum, { style, gap }) => sum + style.size * LINE + gap, 0);

/** Where the second of two columns begins, so that the higher one is as low as can be; of equal ways the later. */
function secondColumn(lines: readonly Line[]): number {
  let best = { at: lines.length, height: highOf(lines) };
  for (let at = lines.length - 1; at > 0; at--) {
    if (lines[at]?.stays) continue;
    const height = Math.max(highOf(lines.slice(0, at)), highOf(lines.slice(at)));
    if (height < best.height - 0.01) best = { at, height };
  }
  return best.at;
}

function drawLines(ink: Ink, lines: readonly Line[], x: number, y: number): void {
  let top = y;
  for (const { words, style, gap } of lines) {
    top += gap;
    ink.write(words, x, top + style.size * RISE, style);
    top += style.size * LINE;
  }
}

/** The end is one block in two columns, so that it stands under the music; one that is higher can go on over pages. */
const WHOLE = 1 / 3;
const RULE = { high: 2 * MM, gap: 4 * MM, least: 2 * MM } as const;

type Said = readonly [words: string, style: Style];

/** Texts under a line, in two columns where they are not too long for it. */
export function footBlocks({ ink, layout }: Desk, said: readonly Said[]): Block[] {
  const { column, room } = layout;
  const half = (column - BETWEEN) / 2;
  const lines = linesOf(ink, said, half);
  const at = secondColumn(lines);
  const [left, right] = [lines.slice(0, at), lines.slice(at)];
  const height = Math.max(highOf(left), highOf(right));
  const rule = (x: number, y: number): void => ink.rule(x, y, column, 0.5, 'rule');
  const { high, gap, least } = RULE;
  if (height <= room * WHOLE) {
    const whole = block(
      high + height,
      (x, y) => {
        rule(x, y);
        drawLines(ink, left, x, y + high);
        drawLines(ink, right, x + half + BETWEEN, y + high);
      },
      { gap, least, floats: true },
    );
    return [whole];
  }
  const blocks = said.flatMap(([words, style]) =>
    textBlocks(ink, words, column, style, { gap: (LINE - 1) * style.size }),
  );
  return [block(high, rule, { gap, least, keeps: true }), ...blocks];
}

/** The end of a sheet: what to put back, what to practise, what to know. Whose it is stands at the foot of each page. */
export function endBlocks(desk: Desk, sheet: Sheet | WordsSheet, more: readonly string[]): Block[] {
  const { text } = desk.layout;
  const { heading, remarks, cautions } = sheet;
  const practice = 'systems' in sheet ? [sheet.summary, ...sheet.practice] : [];
  const small = { face: 'serif', size: SIZE.small * text } as const;
  const rubric = { face: 'italic', size: SIZE.said * text, colour: 'rubric' } as const;
  const said: Said[] = [
    ...practice.map((words) => [words, rubric] as const),
    ...[...remarks, ...more].map((words) => [words, small] as const),
    [cautions.map(signed).join(' '), small],
    [COPYING, { face: 'serif', size: SIZE.copying * text, colour: 'faint' }],
  ];
  const reminder = signed(heading.played?.reminder ?? '');
  return [
    ...textBlocks(desk.ink, reminder, desk.layout.column, rubric, RULE),
    ...footBlocks(desk, said.filter(([words]) => words !== '')),
  ];
} // prettier-ignore
