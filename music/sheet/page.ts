/** What a sheet is made for. */
export interface PageRequest {
  /** CSS pixels of the view: 1180 on a usual tablet. */
  readonly width: number;
  /** 1 is the usual size of the words; 1.25 a quarter larger. */
  readonly textScale: number;
  /** The verse whose words are printed, or all that are sung and stand under the notes; null: the first that is sung. */
  readonly verse: VerseUnder | null;
  /**
   * For paper: sizes as they are printed, in CSS pixels (1/96 in), and `width` is the room for one system. Missing: for a
   * screen, with margins and sizes of its own, which `textScale` changes.
   */
  readonly paper?: Pick<PageMeasures, 'words' | 'staffSpace'>;
}

/** The verse under the notes, or all. */
export type VerseUnder = number | 'all';

/** Where things stand on the page, in CSS pixels. */
export interface PageMeasures {
  readonly width: number;
  /** Left and right of everything. */
  readonly padding: number;
  /** The column of section names; 0: they stand above the system. */
  readonly margin: number;
  /** Room for one system. */
  readonly system: number;
  /** Font size of the words under the notes. */
  readonly words: number;
  readonly staffSpace: number;
}

/**
 * Play text is at least 22 arc minutes at 70 cm, which on a usual tablet is 32 CSS pixels; a phone is held at
 * half that distance and a narrow view would hold no bar, so words are 22 there.
 */
const WORDS = { wide: 32, narrow: 22 } as const;
const NARROW = 600;
/** From this width on there is room for a margin of section names beside the system. */
const WITH_MARGIN = 1000;

/** Widths and sizes outside these are brought inside. */
export const PAGE_LIMITS = {
  width: { least: 320, most: 2400 },
  textScale: { least: 0.6, most: 2 },
} as const;

function within(value: number, { least, most }: { least: number; most: number }): number {
  return Number.isFinite(value) ? Math.min(most, Math.max(least, value)) : least;
}

/** The words' font size is this many staff spaces: words lead, notes stay as large as a printed piano staff. */
export const WORDS_IN_SPACES = 3.4;

export function measuresOf(request: PageRequest): PageMeasures {
  const width = Math.round(within(request.width, PAGE_LIMITS.width));
  if (request.paper) return { width, padding: 0, margin: 0, system: width, ...request.paper };
  const textScale = within(request.textScale, PAGE_LIMITS.textScale);
  const padding = width < NARROW ? 12 : width < WITH_MARGIN ? 32 : 40;
  const margin = width < WITH_MARGIN ? 0 : 130;
  const words = (width < NARROW ? WORDS.narrow : WORDS.wide) * textScale;
  return {
    width,
    padding,
    margin,
    system: width - 2 * padding - margin,
    words,
    staffSpace: words / WORDS_IN_SPACES,
  };
}
