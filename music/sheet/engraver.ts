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
/** Figures above a staff are printed larger than the engraver thinks; moved up by this share of their size they clear stems. */
const LIFTED = 0.08;
/** Below figures that are set closer. */
const CLOSER_BOTTOM = 60;

/**
 * Figures of fingers against the words: as the engraver counts them, and as they are printed. They have no descenders, so
 * rows of them stand closer than lines of text. Where words are small beside the staff, as on paper, figures stand closer
 * to staff lines and words than the engraver thinks, and are printed smaller.
 */
const FINGERS = {
  usual: { counted: 0.56, printed: 0.74 },
  small: { counted: 0.6, printed: 0.68 },
  stacked: { counted: 0.42, printed: 0.6 },
} as const;
/**
 * So many figures over one another on a screen are set as those of printed music, about four thirds of a staff space high, and closer:
 * with them two lines of music find room on a tablet (ours).
 */
export const STACKED = 4;
/** A figure that counts as narrower than so many staff spaces is not kept away from the stem at the side of its note. */
const KEPT_AWAY = 1.8;
/** Such a figure is moved away from the stem by so much, in drawing units; a staff space has 180. */
const ASIDE = 50;

/** How figures of fingers are set, by the room for them. */
function fingersOf(
  { words, staffSpace }: PageMeasures,
  areStacked: boolean,
): (typeof FINGERS)[keyof typeof FINGERS] {
  if (FINGERS.usual.counted * words < KEPT_AWAY * staffSpace) return FINGERS.small;
  return areStacked ? FINGERS.stacked : FINGERS.usual;
}

/**
 * The printed sizes of the texts, in the coordinates of the engraver's drawing, how far figures are moved aside, and the
 * room below them.
 * @param areStacked figures stand over one another in so many rows that they are set closer
 */
export function textSizes(measures: PageMeasures, areStacked: boolean) {
  const perPixel = 10 / scaleOf(measures);
  const fingers = fingersOf(measures, areStacked);
  return {
    bottom: fingers === FINGERS.stacked ? CLOSER_BOTTOM : BLEED.bottom,
    // Figures set closer are hardly larger than the engraver thinks, and nearer to the words above.
    lifted: fingers === FINGERS.stacked ? 0 : LIFTED,
    aside: fingers.counted * measures.words < KEPT_AWAY * measures.staffSpace ? ASIDE : 0,
    words: measures.words * perPixel,
    chords: measures.words * 0.94 * perPixel,
    fingers: measures.words * fingers.printed * perPixel,
    numbers: measures.words * 0.56 * perPixel,
  };
}

/**
 * Everything the engraver is told, in one place for the server and the tablet. One system stands on each of its
 * pages; the page is as high as the system.
 */
export function settings(
  measures: PageMeasures,
  pass: 'measure' | 'engrave',
  areStacked: boolean,
): EngraverSettings {
  const scale = scaleOf(measures);
  const fingers = fingersOf(measures, areStacked);
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
    fingeringScale: fingers.counted,
    // Above and below each figure too. The engraver keeps what it is told: the usual room is said as well.
    defaultTopMargin: fingers === FINGERS.stacked ? 0.25 : 0.5,
    defaultBottomMargin: fingers === FINGERS.stacked ? 0.25 : 0.5,
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
