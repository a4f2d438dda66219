import type { PageRequest } from '#music';

/** Sheets of paper: A4 (ISO 216) and Letter (ANSI/ASME Y14.1). */
export type Paper = 'A4' | 'Letter';
export type Print = 'usual' | 'large';

/** One millimetre in points (1/72 in). */
export const MM = 72 / 25.4;
/** One CSS pixel (1/96 in) in points. */
export const PIXEL = 0.75;

const SIZES: Readonly<Record<Paper, readonly [width: number, height: number]>> = {
  A4: [210 * MM, 297 * MM],
  Letter: [8.5 * 72, 11 * 72],
};

/**
 * How large things are printed. Staves of 7.5 to 8.5 mm are what players read at arm's length. Large print sets words in
 * 18 points and more, as makers of large print do (from memory), and everything else with them.
 */
const PRINTS: Readonly<Record<Print, { staff: number; words: number; text: number }>> = {
  usual: { staff: 7.6 * MM, words: 12, text: 1 },
  large: { staff: 10.4 * MM, words: 18.5, text: 1.5 },
};

/** Where things stand on a page, in points from its top left corner. */
export interface PaperLayout {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly top: number;
  /** Between the left and right margins. */
  readonly column: number;
  /** From the top margin to where the foot of the page begins. */
  readonly room: number;
  /** The column of section names beside the music; 0: they stand above it, and the music is as wide as the column. */
  readonly margin: number;
  /** Font size of the words under the notes. */
  readonly words: number;
  readonly staffSpace: number;
  /** Every other letter against the usual. */
  readonly text: number;
  /** The music against its usual size. */
  readonly music: number;
}

/**
 * A sheet that would take a page more is set smaller, by so much at most: staves stay at 7.5 mm and more, words with chords
 * at 12 points and in large print at 18, verses at 10 and 15.
 */
const TIGHTER: Readonly<Record<Print, readonly Pick<PaperLayout, 'text' | 'music'>[]>> = {
  usual: [
    { text: 0.96, music: 0.99 },
    { text: 0.925, music: 0.99 },
  ],
  large: [{ text: 0.95, music: 0.98 }],
};

/** A layout, and then those that are set smaller. */
export function tighter(layout: PaperLayout, print: Print): PaperLayout[] {
  const smaller = TIGHTER[print].map(({ text, music }) => ({ ...layout, text: layout.text * text, music }));
  return [layout, ...smaller];
} // prettier-ignore

const SIDE = 14 * MM;
/** The line that runs above every page stands inside this. */
const TOP = 16 * MM;
const BOTTOM = 18 * MM;
const NAMES = 25 * MM;

export function layoutFor(paper: Paper, print: Print): PaperLayout {
  const [width, height] = SIZES[paper];
  const { staff, words, text } = PRINTS[print];
  return {
    width,
    height,
    left: SIDE,
    top: TOP,
    column: width - 2 * SIDE,
    room: height - TOP - BOTTOM,
    margin: print === 'large' ? 0 : NAMES,
    words,
    staffSpace: staff / 4,
    text,
    music: 1,
  };
}

/** What the engraver is asked for, so that its systems fit this paper. */
export function engravedFor(paper: Paper, print: Print): Pick<PageRequest, 'width' | 'paper'> {
  const { column, margin, words, staffSpace } = layoutFor(paper, print);
  return {
    width: Math.floor((column - margin) / PIXEL),
    paper: { words: words / PIXEL, staffSpace: staffSpace / PIXEL },
  };
}
