import type { PageMeasures } from './page.ts';

/** The engraver's part that is used here; the server's worker and the tablet's worker each bring one. */
export interface Engraver {
  setOptions(options: EngraverSettings): void;
  loadData(musicXml: string): boolean;
  getPageCount(): number;
  renderToSVG(page: number): string;
}

export type EngraverSettings = Readonly<Record<string, string | number | boolean>>;

/** The engraver's unit is half a staff space; it draws ten times as large as it says. */
const UNIT = 9;

/**
 * The engraver spaces words by the widths of Times. Source Serif 4 is wider: over the 4,462 syllables of the hymns
 * in seed-data 1.21 times at the median, 1.27 at the 95th percentile (measured in Chromium). So it is told a larger
 * size than is printed, and the words find their room.
 */
export const TIMES_TO_SERIF = 1.22;

/** Font size as the engraver counts it, in its units, and how many CSS pixels one of its points is. */
export function scaleOf(measures: PageMeasures): number {
  return measures.staffSpace / (2 * UNIT);
}

/** Room in a drawing for what stands out of its page (the brace, the last line), in drawing units. */
export const BLEED = { left: 260, right: 20, bottom: 120 } as const;

/** The printed sizes of the texts, in the coordinates of the engraver's drawing. */
export function textSizes(measures: PageMeasures) {
  const perPixel = 10 / scaleOf(measures);
  return {
    words: measures.words * perPixel,
    chords: measures.words * 0.94 * perPixel,
    fingers: measures.words * 0.74 * perPixel,
    numbers: measures.words * 0.56 * perPixel,
  };
}

/**
 * Everything the engraver is told, in one place for the server and the tablet. One system stands on each of its
 * pages; the page is as high as the system.
 */
export function settings(measures: PageMeasures, pass: 'measure' | 'engrave'): EngraverSettings {
  const scale = scaleOf(measures);
  return {
    xmlIdSeed: 1,
    breaks: pass === 'measure' ? 'none' : 'line',
    pageWidth: Math.floor(measures.system / scale - BLEED.left / 10 - BLEED.right / 10),
    pageHeight: 100,
    adjustPageHeight: true,
    adjustPageWidth: pass === 'measure',
    noJustification: pass === 'measure',
    minLastJustification: 0.85,
    pageMarginLeft: 0,
    pageMarginRight: 0,
    pageMarginTop: 0,
    pageMarginBottom: 0,
    header: 'none',
    footer: 'none',
    scale: 100,
    unit: UNIT,
    font: 'Leipzig',
    smuflTextFont: 'none',
    svgFormatRaw: true,
    svgViewBox: true,
    svgRemoveXlink: true,
    // In staff half-spaces; the largest the engraver takes is 8.
    lyricSize: Math.min(8, (measures.words * TIMES_TO_SERIF) / (measures.staffSpace / 2)),
    lyricTopMinMargin: 1.5,
    lyricWordSpace: 1.8,
    // A shorter extender reads as a full stop.
    extenderLineMinSpace: 6,
    // Rows of fingers stand closer than text lines: figures have no descenders. Where words are small beside the staff, a
    // figure must still count as wide enough to keep away from the stem at the side of its note: 1.8 staff spaces.
    fingeringScale: Math.max(0.56, (1.8 * measures.staffSpace) / measures.words),
    spacingStaff: 5,
    spacingBraceGroup: 4,
    spacingSystem: 3,
    spacingLinear: 0.25,
    spacingNonLinear: 0.6,
    harmDist: 0.5,
    bottomMarginHarm: 0.5,
    topMarginHarm: 0.5,
    mnumInterval: 0,
  };
}
