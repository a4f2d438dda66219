import { requirePitch } from '../pitch/pitch.ts';
import type { Octave, Singer } from './range.ts';
import type { SungNote, SungSection } from './sung.ts';
import { pitchTimes, type PitchTime } from './tessitura.ts';
import { VERDICTS, type Verdict } from './fit-row.ts';

/** All the time of a section at one sounding pitch. */
export interface Stay extends PitchTime {
  /** Felt beats in all, times `FELT_BEAT`. */
  readonly felt: number;
  /** The note that stays longest there, the first of equals. */
  readonly longest: SungNote;
}

/** A section counted once, so that every key and voice only moves it. */
export interface Counted {
  readonly id: string;
  readonly name: string;
  /** From the lowest pitch up. */
  readonly stays: readonly Stay[];
}

/** A section in a key and an octave. */
export interface Placed {
  readonly section: Counted;
  readonly octave: Octave;
  /** Semitones from the written note to the sounding one. */
  readonly by: number;
}

/** A singer's comfortable range in semitones, C4 = 60. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** Whole numbers only: semitones and ticks. */
export interface Figures {
  low: number;
  high: number;
  total: number;
  /** Sum of semitones times ticks. */
  weighted: number;
  above: number;
  below: number;
  atTop: number;
  atBottom: number;
}

export function count({ id, name, notes }: SungSection): Counted {
  const stays = pitchTimes(notes).map((time): Stay => {
    const there = notes.filter(({ midi }) => midi === time.midi);
    const felt = there.reduce((sum, note) => sum + note.felt, 0);
    const longest = there.reduce((best, note) => (note.felt > best.felt ? note : best));
    return { ...time, felt, longest };
  });
  return { id, name, stays };
}

export function boundsOf({ comfortable }: Singer): Bounds {
  return { low: requirePitch(comfortable.low).midi, high: requirePitch(comfortable.high).midi };
}

export function figuresOf({ section, by }: Placed, bounds: Bounds): Figures {
  const { stays } = section;
  const figures: Figures = {
    low: (stays[0]?.midi ?? 0) + by,
    high: (stays.at(-1)?.midi ?? 0) + by,
    total: 0,
    weighted: 0,
    above: 0,
    below: 0,
    atTop: 0,
    atBottom: 0,
  };
  for (const stay of stays) {
    const midi = stay.midi + by;
    const time = stay.ticks;
    figures.total += time;
    figures.weighted += midi * time;
    if (midi > bounds.high) figures.above += time;
    if (midi < bounds.low) figures.below += time;
    if (midi >= bounds.high - 1) figures.atTop += time;
    if (midi <= bounds.low + 1) figures.atBottom += time;
  }
  return figures;
}

export function together(all: readonly Figures[]): Figures {
  const [first, ...others] = all;
  if (!first) throw new RangeError('nothing to add up');
  const sum = { ...first };
  for (const each of others) {
    sum.low = Math.min(sum.low, each.low);
    sum.high = Math.max(sum.high, each.high);
    sum.total += each.total;
    sum.weighted += each.weighted;
    sum.above += each.above;
    sum.below += each.below;
    sum.atTop += each.atTop;
    sum.atBottom += each.atBottom;
  }
  return sum;
}

/**
 * Less is better: first the time outside, then how far the mean lies from the middle of the range. Exact: twice the
 * offset times the total time.
 */
export function compareFigures(a: Figures, b: Figures, bounds: Bounds): number {
  const off = (each: Figures): number =>
    Math.abs(2 * each.weighted - (bounds.low + bounds.high) * each.total);
  return a.above + a.below - (b.above + b.below) || off(a) - off(b);
}

/** Our own rule of thumb: a tenth of the song on the end notes of a range is felt as high, or low, singing. */
export const END_SHARE = { over: 1, under: 10 } as const;
/** Our own: up to a twentieth of the time may lie outside and still be asked for with a word of warning … */
export const EDGE_SHARE = { over: 1, under: 20 } as const;
/** … by a whole step at most where nobody has marked how far the voice goes. */
export const EDGE_STEP = 2;

/** Whether the mean lies in the middle half of the range: a quarter of it away from the middle at most. */
export function inMiddleHalf(figures: Figures, { low, high }: Bounds): boolean {
  const off = Math.abs(2 * figures.weighted - (low + high) * figures.total);
  return 2 * off <= (high - low) * figures.total;
}

export function verdictOf(figures: Figures, bounds: Bounds, singer: Singer): Verdict {
  const { total, above, below, atTop, atBottom } = figures;
  const outside = above + below;
  if (outside > 0) {
    const limit = singer.limit
      ? { low: requirePitch(singer.limit.low).midi, high: requirePitch(singer.limit.high).midi }
      : { low: bounds.low - EDGE_STEP, high: bounds.high + EDGE_STEP };
    const reached = figures.low >= limit.low && figures.high <= limit.high;
    return reached && outside * EDGE_SHARE.under <= total * EDGE_SHARE.over ? 'edge' : 'outside';
  }
  const calm = (time: number): boolean => time * END_SHARE.under < total * END_SHARE.over;
  return calm(atTop) && calm(atBottom) && inMiddleHalf(figures, bounds) ? 'easy' : 'works';
}

/** 0 is best. */
export function rankOf(verdict: Verdict): number {
  return VERDICTS.indexOf(verdict);
}
