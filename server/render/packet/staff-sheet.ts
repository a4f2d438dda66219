import type { HandPicture, PlayedKey, Sheet, SheetSystem } from '#music';
import { block, columnOf, flow, paragraph, type Block, type Column } from './block.ts';
import { drawSystem, outlinesOf } from './draw-system.ts';
import { drawKeys, handHeight } from './hand.ts';
import { headingBlocks } from './heading.ts';
import type { Desk } from './pages.ts';
import { MM, PIXEL } from './paper.ts';
import { endBlocks, verseBlocks } from './sheet-end.ts';

/** Points on usual paper. */
const SIZE = { chord: 14, moves: 10, section: 11, direction: 9 } as const;
const PICTURE = 30 * MM;
/** Two pictures stand beside each other. */
const IN_ROW = 2;
const BETWEEN = 6 * MM;
/** A bar's number stands above its drawing. */
const ABOVE = 4 * MM;
/** In the margin the section stands beside the first lines of the staff. */
const MARGIN_DOWN = 4 * MM;

/** One shape: its chord, the keys, and in words what the hand does; beside the keys where there is room, else under them. */
function picture({ ink, layout: { text } }: Desk, shape: HandPicture, room: number) {
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
    draw: (x: number, y: number): void => {
      ink.write(shape.chord, x, y + chord.size, chord);
      drawKeys(ink, shape, { x: x + name, y, width: wide });
      if (isBeside) words.draw(x + name + wide + 2 * MM, y);
      else words.draw(x + name, y + keys);
    },
  };
}

function stripBlocks(desk: Desk, strip: SheetSystem['strip']): Block[] {
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
        gap: index === 0 ? 3 * MM : 1.5 * MM,
        keeps: rows.length <= 2 || index === rows.length - 1,
      },
    ),
  );
}

interface Margin {
  /** Beside the music, from its top. */
  readonly beside: Column;
  /** Above the music, over the whole width. */
  readonly above: ReturnType<typeof flow>;
}

/**
 * Section and directions: beside the music; in large print above it. Directions that are longer than the music is high
 * stand above it too, where they need a line or two.
 * @param height of the music
 */
function marginOf({ ink, layout }: Desk, margin: SheetSystem['margin'], height: number): Margin {
  const { text, column } = layout;
  const section = { face: 'serif', size: SIZE.section * text, capitals: true } as const;
  const direction = { face: 'italic', size: SIZE.direction * text, colour: 'rubric' } as const;
  const name = [{ text: margin?.section.toLocaleLowerCase() ?? '', style: section }];
  const directions = (margin?.directions ?? []).map((words) => ({ text: words, style: direction }));
  const none = columnOf(ink, [], column);
  if (layout.margin === 0) {
    return { beside: none, above: flow(ink, [...name, ...directions], column, 4 * MM) };
  }
  const room = layout.margin - 2.5 * MM;
  const all = columnOf(ink, [...name, ...directions], room);
  if (MARGIN_DOWN + all.height <= height) return { beside: all, above: none };
  return { beside: columnOf(ink, name, room), above: flow(ink, directions, column, 4 * MM) };
}

function systemBlock(
  desk: Desk,
  system: SheetSystem,
  outlines: ReadonlyMap<string, string>,
): Block {
  const { margin, room, column } = desk.layout;
  const full = system.height * PIXEL;
  const { beside, above } = marginOf(desk, system.margin, full);
  // What is higher or wider than the page is drawn smaller, so that all of it stands there.
  const scale = Math.min(
    1,
    (column - margin) / (system.width * PIXEL),
    (room - ABOVE - above.height) / full,
  );
  const named = beside.height === 0 ? 0 : MARGIN_DOWN + beside.height;
  return block(
    above.height + ABOVE + Math.max(full * scale, named),
    (x, y) => {
      const top = y + above.height + ABOVE;
      above.draw(x, y);
      beside.draw(x, top + MARGIN_DOWN);
      drawSystem(desk.ink, system.svg, outlines, { x: x + margin, y: top, scale });
    },
    { turns: system.turn !== null },
  );
}

/** A sheet of notes: heading, pictures of the hand, lines of music, further verses, the end. */
export function staffBlocks(
  desk: Desk,
  { sheet, played, before, more }: { readonly sheet: Sheet; readonly played: PlayedKey | null; readonly before: string; readonly more: readonly string[] },
): Block[] {
  const { heading, order, introduction, systems, words } = sheet;
  const outlines = outlinesOf(sheet.glyphs);
  return [
    ...headingBlocks(desk, { heading, order, introduction, played, before }),
    ...systems.flatMap((system) => [
      ...stripBlocks(desk, system.strip),
      systemBlock(desk, system, outlines),
    ]),
    ...verseBlocks(desk, words),
    ...endBlocks(desk, sheet, more),
  ];
} // prettier-ignore
