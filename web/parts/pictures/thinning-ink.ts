import { scaleLinear } from 'd3-scale';
import { Keys, Pitches, QUARTER, type NoteInRoom, type Pitch } from '#music';
import { widthOfWord } from './word-width.ts';

/** A note of the tune, and the syllable that begins on it; empty: none. */
export interface InkNote extends NoteInRoom {
  readonly word: string;
}

export interface DrawnNote {
  /** Index into the notes. */
  readonly index: number;
  readonly x: number;
  readonly y: number;
  /** `♯`, `♭`, `♮`; empty: none. */
  readonly sign: string;
  readonly ledgers: readonly number[];
  /** 0–1: the width of the ink in the notehead. */
  readonly share: number;
  /** The bar under it. */
  readonly bar: { readonly x: number; readonly y: number; readonly width: number; readonly height: number }; // prettier-ignore
  readonly word: string;
  /** Of all notes the fewest sing this one, and its figure is printed: not twice where it is sung again at once. */
  readonly figure: boolean;
  readonly isThinnest: boolean;
}

export interface DrawnSystem {
  /** Number of its first bar; 0: the pickup. */
  readonly first: number;
  readonly notes: readonly DrawnNote[];
  /** Where bars end. */
  readonly barLines: readonly number[];
  readonly signature: readonly { readonly x: number; readonly y: number; readonly sign: string }[];
  readonly end: number;
}

/** All lengths in CSS pixels. */
export interface DrawnInk {
  readonly width: number;
  /** Of one system. */
  readonly height: number;
  readonly lines: readonly number[];
  readonly clef: number;
  /** Where the bars under the staff stand, and where they would end were the whole room singing. */
  readonly floor: number;
  readonly ceiling: number;
  /** Where the words stand. */
  readonly words: number;
  readonly systems: readonly DrawnSystem[];
}

/** Half a staff space. */
export const STEP = 5;
/** The notehead, from its middle. */
export const HEAD = { x: 6.4, y: 4.6 } as const;
const LOWEST_LINE = Pitches.requirePitch('E4').step;
const HIGHEST_LINE = Pitches.requirePitch('F5').step;
const G_LINE = Pitches.requirePitch('G4').step;
const SHARPS = ['F5', 'C5', 'G5', 'D5', 'A4', 'E5', 'B4'].map(stepOf);
const FLATS = ['B4', 'E5', 'A4', 'D5', 'G4', 'C5', 'F4'].map(stepOf);
const SIGNS: Readonly<Record<number, string>> = { [-2]: '♭♭', [-1]: '♭', 0: '♮', 1: '♯', 2: '♯♯' };
const CLEF_WIDTH = 32;
const SIGN_WIDTH = 8;
const HEADROOM = 22;
/** From the staff to the bars under it, and their height where everybody sings. */
const UNDER = 30;
const BAND = 44;
const WORD_ROOM = 26;
/** Of a note, at least; of a quarter; at most, but for its word. */
const SLOT = { least: 21, quarter: 22, most: 60 } as const;
/** Between two words, at least. */
const WORD_GAP = 8;
/** The last system is stretched no further. */
const MOST_STRETCH = 1.6;

function stepOf(pitch: string): number {
  return Pitches.requirePitch(pitch).step;
}

interface Slot {
  readonly index: number;
  readonly note: InkNote;
  readonly pitch: Pitch;
  readonly width: number;
  readonly sign: string;
  readonly endsBar: boolean;
}

/**
 * The tune on staves as wide as there is room, broken at bar lines, and within a bar only where that is wider. Of each note the ink thins with the share of the
 * room that sings it, and a bar under it is as high as that share.
 * @param signature sharps positive, flats negative
 */
export function drawInk(notes: readonly InkNote[], signature: number, width: number): DrawnInk {
  let altered = new Map<number, number>();
  const slots = notes.map((note, index): Slot => {
    if (note.bar !== notes[index - 1]?.bar) altered = new Map();
    const pitch = Pitches.requirePitch(note.pitch);
    const time = (SLOT.quarter * note.length) / QUARTER;
    const own = Math.min(SLOT.most, Math.max(SLOT.least, time));
    const word = note.word === '' ? 0 : widthOfWord(note.word) + WORD_GAP;
    const sign = signOf(pitch, signature, altered);
    const endsBar = note.bar !== notes[index + 1]?.bar;
    return { index, note, pitch, width: Math.max(own, word), sign, endsBar };
  });
  const steps = slots.map(({ pitch }) => pitch.step);
  const top = Math.max(HIGHEST_LINE, ...steps);
  const bottom = Math.min(LOWEST_LINE, ...steps);
  const y = (step: number): number => HEADROOM + (top - step) * STEP;
  const ceiling = y(bottom) + UNDER;
  const floor = ceiling + BAND;
  const start = CLEF_WIDTH + Math.abs(signature) * SIGN_WIDTH + 10;
  const thinnest = Math.min(...notes.map(({ share }) => share));
  const place: Placing = { y, floor, start, width, signature, thinnest };
  const broken = systemsOf(slots, width - start);
  return {
    width,
    height: floor + WORD_ROOM,
    lines: [0, 2, 4, 6, 8].map((line) => y(LOWEST_LINE + line)),
    clef: y(G_LINE),
    floor,
    ceiling,
    words: floor + 16,
    systems: broken.map((bars, i) => systemOf(bars, place, i === broken.length - 1)),
  };
}

/** What stands before a note: what its key and its bar so far do not say. @param altered in this bar, by step */
function signOf(
  { step, alter, letter }: Pitch,
  signature: number,
  altered: Map<number, number>,
): string {
  const now = altered.get(step) ?? Keys.alterIn(signature, letter);
  altered.set(step, alter);
  return alter === now ? '' : (SIGNS[alter] ?? '');
}

/** Bars a system, as few systems as there is room for, and of so many the evenest; a bar wider than that in pieces. */
function systemsOf(slots: readonly Slot[], room: number): Slot[][][] {
  const bars: Slot[][] = [];
  for (const slot of slots) {
    const last = bars.at(-1);
    const fits = last && !last.at(-1)?.endsBar && widthOf([...last, slot]) <= room;
    if (fits) last.push(slot);
    else bars.push([slot]);
  }
  const count = filled(bars, room).length;
  let [least, most] = [0, room];
  while (most - least > 1) {
    const middle = (least + most) / 2;
    if (filled(bars, middle).length > count) least = middle;
    else most = middle;
  }
  return filled(bars, most);
}

/** Bars as long as they fit into a width, one at least. */
function filled(bars: readonly Slot[][], room: number): Slot[][][] {
  const systems: Slot[][][] = [];
  let left = 0;
  for (const bar of bars) {
    const width = widthOf(bar);
    const last = systems.at(-1);
    const fits = last !== undefined && width <= left;
    if (fits) last.push(bar);
    else systems.push([bar]);
    left = (fits ? left : room) - width;
  }
  return systems;
}

const BAR_GAP = 8;
const widthOf = (bar: readonly Slot[]): number =>
  bar.reduce((sum, { width }) => sum + width, BAR_GAP);

interface Placing {
  readonly y: (step: number) => number;
  readonly floor: number;
  readonly start: number;
  readonly width: number;
  readonly signature: number;
  readonly thinnest: number;
}

function systemOf(bars: readonly Slot[][], place: Placing, isLast: boolean): DrawnSystem {
  const natural = bars.reduce((sum, bar) => sum + widthOf(bar), 0);
  const full = (place.width - place.start) / natural;
  const stretch = isLast ? Math.min(full, MOST_STRETCH) : full;
  const notes: DrawnNote[] = [];
  const barLines: number[] = [];
  let x = place.start;
  for (const bar of bars) {
    for (const slot of bar) {
      const before = notes.at(-1);
      notes.push(noteOf(slot, { x, width: slot.width * stretch, before }, place));
      x += slot.width * stretch;
    }
    if (!bar.at(-1)?.endsBar) continue;
    x += BAR_GAP * stretch;
    barLines.push(x - (BAR_GAP * stretch) / 2);
  }
  const steps = place.signature > 0 ? SHARPS : FLATS;
  return {
    first: bars[0]?.[0]?.note.bar ?? 0,
    notes,
    barLines,
    signature: steps.slice(0, Math.abs(place.signature)).map((step, i) => ({
      x: CLEF_WIDTH + i * SIGN_WIDTH,
      y: place.y(step),
      sign: place.signature > 0 ? '♯' : '♭',
    })),
    end: bars.at(-1)?.at(-1)?.endsBar ? (barLines.at(-1) ?? place.width) : x,
  };
}

interface At {
  readonly x: number;
  readonly width: number;
  readonly before: DrawnNote | undefined;
}

function noteOf({ index, note, pitch, sign }: Slot, at: At, place: Placing): DrawnNote {
  const { step } = pitch;
  const height = scaleLinear([0, 1], [0, BAND])(note.share);
  const isThinnest = note.share === place.thinnest;
  const ledgers: number[] = [];
  for (let line = LOWEST_LINE - 2; line >= step; line -= 2) ledgers.push(place.y(line));
  for (let line = HIGHEST_LINE + 2; line <= step; line += 2) ledgers.push(place.y(line));
  return {
    index,
    x: at.x + HEAD.x + 8,
    y: place.y(step),
    sign,
    ledgers,
    share: note.share,
    bar: { x: at.x + 5, y: place.floor - height, width: at.width - 2, height },
    word: note.word,
    isThinnest,
    figure: isThinnest && !(at.before?.isThinnest ?? false),
  };
}

/** Which note an arrow, Home or End leads to; null: not one of these keys. */
export function noteAfter(key: string, from: number, count: number): number | null {
  const last = count - 1;
  if (key === 'ArrowRight' || key === 'ArrowUp') return Math.min(last, from + 1);
  if (key === 'ArrowLeft' || key === 'ArrowDown') return Math.max(0, from - 1);
  if (key === 'Home') return 0;
  return key === 'End' ? last : null;
}
