import type { PlayedKey, WordsLine, WordsPass, WordsSheet } from '#music';
import { block, columnOf, flow, type Block, type Column } from './block.ts';
import { headingBlocks } from './heading.ts';
import type { Desk } from './pages.ts';
import { MM } from './paper.ts';
import { endBlocks } from './sheet-end.ts';
import { BAR, beatStyle, chordStyles, chordTexts, rowsOf } from './words-rows.ts';

/** Points on usual paper. */
const SIZE = { words: 13, name: 10.5, direction: 9 } as const;
/** Names of passes stand beside the words; in large print above them. */
const NAMES = 28 * MM;
const BETWEEN = { gap: 4 * MM, least: 2.5 * MM } as const;
/** Heights against the size of the words. */
const [CHORDS_HIGH, WORDS_HIGH] = [1.1, 1.25];

/** A line of words: its height, and how it is drawn. */
function lineOf({ ink, layout: { text } }: Desk, line: WordsLine, room: number) {
  const style = { face: 'serif', size: SIZE.words * text } as const;
  const rows = rowsOf(ink, line, room, style);
  const over = line.pieces.some(({ chord }) => chord !== null) ? CHORDS_HIGH * style.size : 0;
  const under = line.pieces.some((piece) => piece.text.trim() !== '') ? WORDS_HIGH * style.size : 0;
  const step = over + under;
  return {
    height: rows.length * step,
    draw: (x: number, y: number): void =>
      rows.forEach((row, index) => {
        const top = y + index * step;
        for (const placed of row) {
          if (placed.chord) {
            const [said, styles] = [chordTexts(placed.chord), chordStyles(placed.chord, style.size)];
            const baseline = top + style.size * 0.85;
            let at = x + placed.x;
            if (placed.bar) ink.write('|', at - BAR * style.size, baseline, beatStyle(style.size));
            at += ink.write(said.name, at, baseline, styles.name);
            at += ink.write(said.sounds, at, baseline, styles.sounds);
            if (placed.beats) ink.write(placed.beats, at, baseline, beatStyle(style.size));
          }
          if (placed.held > 0) {
            ink.rule(x + placed.x, top + over + style.size, placed.held, 0.6, 'ink');
          }
          ink.write(placed.text, x + placed.x, top + over + style.size * 0.95, style);
        }
      }),
  }; // prettier-ignore
}

/** Name and directions of a pass, in so much room: under each other, or one after another. */
function nameOf(
  { ink, layout: { text } }: Desk,
  pass: WordsPass,
  room: number,
  inRow: boolean,
): Column {
  const name = { face: 'serif', size: SIZE.name * text, capitals: true } as const;
  const direction = { face: 'italic', size: SIZE.direction * text, colour: 'rubric' } as const;
  const pieces = [
    { text: pass.name.toLocaleLowerCase(), style: name },
    ...pass.directions.map((words) => ({ text: words, style: direction })),
  ];
  return inRow ? flow(ink, pieces, room, 4 * MM) : columnOf(ink, pieces, room);
}

/** A pass stays on one page where it can; after it the page turns well. */
function passBlocks(desk: Desk, pass: WordsPass): Block[] {
  const { column, margin } = desk.layout;
  const isAbove = margin === 0 || pass.lines.length === 0;
  const indent = isAbove ? 0 : NAMES;
  const name = nameOf(desk, pass, isAbove ? column : NAMES - 3 * MM, isAbove);
  const lines = pass.lines.map((line) => lineOf(desk, line, column - indent));
  const all = lines.reduce((sum, { height }) => sum + height, 0);
  // Long directions stand beside the lines that follow, and move none of them.
  const longer = isAbove ? 0 : Math.max(0, name.height - all);
  const blocks = lines.map(({ height, draw }, index) => {
    const last = index === lines.length - 1;
    return block(
      height + (last ? longer : 0),
      (x, y) => {
        if (index === 0 && !isAbove) name.draw(x, y);
        draw(x + indent, y);
      },
      { keeps: !last, turns: last, ...(index === 0 && !isAbove && BETWEEN) },
    );
  });
  if (!isAbove) return blocks;
  const head = block(name.height, name.draw, { ...BETWEEN, keeps: lines.length > 0, turns: lines.length === 0 }); // prettier-ignore
  return [head, ...blocks];
}

/** A sheet of words with the chords over them: heading, every pass of the form, the end. */
export function wordsBlocks(
  desk: Desk,
  { sheet, played, offer, before, more }: { readonly sheet: WordsSheet; readonly played: PlayedKey | null; readonly offer?: PlayedKey; readonly before: string; readonly more: readonly string[] },
): Block[] {
  const { heading, order, passes } = sheet;
  return [
    ...headingBlocks(desk, { heading, order, played, offer, before }),
    ...passes.flatMap((pass) => passBlocks(desk, pass)),
    ...endBlocks(desk, sheet, more),
  ];
} // prettier-ignore
