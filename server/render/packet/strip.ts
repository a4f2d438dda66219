import type { HandPicture, SheetSystem } from '#music';
import { block, paragraph, type Block, type Column } from './block.ts';
import { drawKeys, handHeight } from './hand.ts';
import type { Desk } from './pages.ts';
import { MM } from './paper.ts';

/** Points on usual paper. */
const SIZE = { chord: 14, moves: 9.5, besideChord: 12, besideMoves: 9 } as const;
const PICTURE = 27 * MM;
/** Two pictures stand beside each other. */
const IN_ROW = 2;
const BETWEEN = 6 * MM;
const ROWS = {
  first: { gap: 3 * MM, least: 1.5 * MM },
  next: { gap: 1.5 * MM, least: 0.7 * MM },
} as const;

/** One shape: its chord, the keys, and in words what the hand does; beside the keys where there is room, else under them. */
function picture({ ink, layout: { text } }: Desk, shape: HandPicture, room: number): Column {
  const chord = { face: 'bold', size: SIZE.chord * text } as const;
  const moves = { face: 'italic', size: SIZE.moves * text, colour: 'rubric' } as const;
  const name = Math.max(10 * MM * text, ink.width(shape.chord, chord) + 2 * MM);
  const wide = PICTURE * (text > 1 ? 1.3 : 1);
  const beside = room - name - wide - 2 * MM;
  const isBeside = beside >= 30 * MM * text;
  const words = paragraph(ink, shape.words, isBeside ? beside : room - name, moves);
  const keys = handHeight(shape, wide);
  return {
    height: isBeside ? Math.max(keys, words.height) : keys + words.height,
    draw: (x, y) => {
      ink.write(shape.chord, x, y + chord.size, chord);
      drawKeys(ink, shape, { x: x + name, y, width: wide });
      if (isBeside) words.draw(x + name + wide + 2 * MM, y);
      else words.draw(x + name, y + keys);
    },
  };
}

/** Shapes in rows above their line of music. */
export function stripBlocks(desk: Desk, strip: SheetSystem['strip']): Block[] {
  const room = (desk.layout.column - BETWEEN * (IN_ROW - 1)) / IN_ROW;
  const rows = Array.from({ length: Math.ceil(strip.length / IN_ROW) }, (_, row) =>
    strip.slice(row * IN_ROW, (row + 1) * IN_ROW).map((shape) => picture(desk, shape, room)),
  );
  return rows.map((row, index) =>
    block(
      Math.max(...row.map(({ height }) => height)),
      (x, y) => row.forEach((each, place) => each.draw(x + place * (room + BETWEEN), y)),
      // The last row stays with its music, and two rows stay together.
      {
        ...(index === 0 ? ROWS.first : ROWS.next),
        keeps: rows.length <= 2 || index === rows.length - 1,
      },
    ),
  );
}

/** Shapes under each other in the margin beside their line of music. */
export function stripBeside(
  { ink, layout: { text } }: Desk,
  strip: SheetSystem['strip'],
  room: number,
): Column {
  const chord = { face: 'bold', size: SIZE.besideChord * text } as const;
  const moves = { face: 'italic', size: SIZE.besideMoves * text, colour: 'rubric' } as const;
  const shapes = strip.map((shape) => {
    const words = paragraph(ink, shape.words, room, moves);
    const keys = handHeight(shape, room);
    return { shape, words, keys, height: chord.size * 1.25 + keys + words.height + 1.5 * MM };
  });
  return {
    height: shapes.reduce((sum, { height }) => sum + height, 0),
    draw: (x, y) => {
      let top = y;
      for (const { shape, words, keys, height } of shapes) {
        ink.write(shape.chord, x, top + chord.size, chord);
        drawKeys(ink, shape, { x, y: top + chord.size * 1.25, width: room });
        words.draw(x, top + chord.size * 1.25 + keys);
        top += height;
      }
    },
  };
}
