import { COPYING, type Sheet, type TextVerse, type WordsSheet } from '#music';
import { block, LINE, paragraph, RISE, textBlocks, type Block } from './block.ts';
import { signed } from './heading.ts';
import type { Desk } from './pages.ts';
import { MM } from './paper.ts';

/** Points on usual paper. */
const SIZE = { verse: 11, said: 10, small: 9, copying: 7.5 } as const;
/** Before a verse its number. */
const NUMBER = 8 * MM;
const BETWEEN = 8 * MM;

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

/** The verses that do not stand under the notes: two beside each other, in large print one. */
export function verseBlocks(desk: Desk, verses: readonly TextVerse[]): Block[] {
  const { column, text } = desk.layout;
  const many = text > 1 ? 1 : 2;
  const room = (column - BETWEEN * (many - 1)) / many;
  const rows = Array.from({ length: Math.ceil(verses.length / many) }, (_, row) =>
    verses.slice(row * many, (row + 1) * many).map((verse) => verseText(desk, verse, room)),
  );
  return rows.map((row, index) =>
    block(
      Math.max(...row.map(({ height }) => height)),
      (x, y) => row.forEach((verse, place) => verse.draw(x + place * (room + BETWEEN), y)),
      { gap: index === 0 ? 4 * MM : 2.5 * MM, turns: true },
    ),
  );
}

/** The end of a sheet: what to put back, what to practise, what to know. Whose it is stands at the foot of each page. */
export function endBlocks(desk: Desk, sheet: Sheet | WordsSheet, more: readonly string[]): Block[] {
  const { ink, layout } = desk;
  const { column, text } = layout;
  const { heading, remarks, cautions } = sheet;
  const practice = 'systems' in sheet ? [sheet.summary, ...sheet.practice] : [];
  const small = { face: 'serif', size: SIZE.small * text } as const;
  const rubric = { face: 'italic', size: SIZE.said * text, colour: 'rubric' } as const;
  const said = [
    ...[signed(heading.played?.reminder ?? ''), ...practice].map((words) => [words, rubric] as const),
    ...[...remarks, ...more].map((words) => [words, small] as const),
    [cautions.map(signed).join(' '), small] as const,
    [COPYING, { face: 'serif', size: SIZE.copying * text, colour: 'faint' }] as const,
  ].filter(([words]) => words !== ''); // prettier-ignore
  const line = block(2 * MM, (x, y) => ink.rule(x, y, column, 0.5, 'rule'), {
    gap: 4 * MM,
    keeps: true,
  });
  const blocks = said.flatMap(([words, style]) =>
    textBlocks(ink, words, column, style, { gap: (LINE - 1) * style.size }),
  );
  return [line, ...blocks];
}
