import type { PlayedKey, Sheet, SheetSystem } from '#music';
import { block, columnOf, flow, LINE, type Block, type Column } from './block.ts';
import { drawSystem, outlinesOf } from './draw-system.ts';
import { headingBlocks } from './heading.ts';
import { overhang } from './overhang.ts';
import type { Desk } from './pages.ts';
import { MM, PIXEL } from './paper.ts';
import { endBlocks, verseBlocks } from './sheet-end.ts';
import { stripBeside, stripBlocks } from './strip.ts';

/** Points on usual paper. */
const SIZE = { section: 11, direction: 9 } as const;
/** In the margin the section stands beside the first lines of the staff. */
const MARGIN_DOWN = 4 * MM;
/** Between two lines of music, besides what stands out of them. */
const BETWEEN = { gap: 4 * MM, least: 1.5 * MM } as const;
/** Under pictures of the hand that belong to it. */
const UNDER_STRIP = { gap: 1.5 * MM, least: 1.5 * MM } as const;
/** Directions stand above the music, where that spares a row of pictures, in so many lines at most. */
const FEW_LINES = 2;

interface Margin {
  /** Beside the music, from its top. */
  readonly beside: Column;
  /** Above the music, over the whole width. */
  readonly above: ReturnType<typeof flow>;
  /** The pictures of the hand stand beside the music too. */
  readonly hasStrip: boolean;
}

/** Columns under each other, a little apart. */
function stacked(first: Column, second: Column): Column {
  const down = first.height === 0 ? 0 : first.height + 1.5 * MM;
  return {
    height: down + second.height,
    draw: (x, y) => {
      first.draw(x, y);
      second.draw(x, y + down);
    },
  };
}

/**
 * Section, directions and pictures of the hand: beside the music where it is high enough for them; else the directions
 * stand above it in a line or two, or the pictures, or both. In large print nothing stands beside.
 * @param height of the music
 * @param isFirst the pictures of a whole song stand above its first line
 */
function marginOf({ ink, layout }: Desk, { margin, strip }: SheetSystem, height: number, isFirst: boolean): Margin {
  const { text, column } = layout;
  const section = { face: 'serif', size: SIZE.section * text, capitals: true } as const;
  const direction = { face: 'italic', size: SIZE.direction * text, colour: 'rubric' } as const;
  const name = [{ text: margin?.section.toLocaleLowerCase() ?? '', style: section }];
  const directions = (margin?.directions ?? []).map((words) => ({ text: words, style: direction }));
  const none = columnOf(ink, [], column);
  if (layout.margin === 0) {
    const above = flow(ink, [...name, ...directions], column, 4 * MM);
    return { beside: none, above, hasStrip: false };
  }
  const room = layout.margin - 2.5 * MM;
  const shapes = stripBeside({ ink, layout }, strip, room);
  const [all, only] = [columnOf(ink, [...name, ...directions], room), columnOf(ink, name, room)];
  const above = flow(ink, directions, column, 4 * MM);
  const fits = ({ height: own }: Column) => MARGIN_DOWN + own <= height;
  const hasStrip = strip.length > 0 && !isFirst;
  if (hasStrip && fits(stacked(all, shapes))) return { beside: stacked(all, shapes), above: none, hasStrip };
  if (hasStrip && above.height <= FEW_LINES * SIZE.direction * LINE && fits(stacked(only, shapes))) {
    return { beside: stacked(only, shapes), above, hasStrip };
  }
  if (fits(all)) return { beside: all, above: none, hasStrip: false };
  return { beside: only, above, hasStrip: false };
} // prettier-ignore

/** A line of music with what stands beside and above it. */
function systemBlocks(
  desk: Desk,
  system: SheetSystem,
  outlines: ReadonlyMap<string, string>,
  isFirst: boolean,
): Block[] {
  const { margin, room, column } = desk.layout;
  const full = system.height * PIXEL;
  const { beside, above, hasStrip } = marginOf(desk, system, full * desk.layout.music, isFirst);
  const strip = hasStrip ? [] : stripBlocks(desk, system.strip);
  const out = overhang(system.svg);
  // What is higher or wider than the page is drawn smaller, so that all of it stands there.
  const scale = Math.min(
    desk.layout.music,
    (column - margin) / (system.width * PIXEL),
    (room - above.height) / (full * (1 + out.above + out.below)),
  );
  const [drawn, over] = [full * scale, full * scale * out.above];
  const named = beside.height === 0 ? 0 : MARGIN_DOWN + beside.height;
  const music = block(
    above.height + over + Math.max(drawn * (1 + out.below), named),
    (x, y) => {
      const top = y + above.height + over;
      above.draw(x, y);
      beside.draw(x, top + MARGIN_DOWN);
      drawSystem(desk.ink, system.svg, outlines, { x: x + margin, y: top, scale });
    },
    { ...(strip.length > 0 ? UNDER_STRIP : BETWEEN), turns: system.turn !== null, isMusic: true },
  );
  return [...strip, music];
}

/** A sheet of notes: heading, pictures of the hand, lines of music, further verses, the end. */
export function staffBlocks(
  desk: Desk,
  { sheet, played, offer, before, more }: { readonly sheet: Sheet; readonly played: PlayedKey | null; readonly offer?: PlayedKey; readonly before: string; readonly more: readonly string[] },
): Block[] {
  const { heading, order, introduction, systems, words } = sheet;
  const outlines = outlinesOf(sheet.glyphs);
  return [
    ...headingBlocks(desk, { heading, order, introduction, played, offer, before }),
    ...systems.flatMap((system, index) => systemBlocks(desk, system, outlines, index === 0)),
    ...verseBlocks(desk, words),
    ...endBlocks(desk, sheet, more),
  ];
} // prettier-ignore
