import { QUARTER, type Ticks } from '../../score/score.ts';

/** Values of `note-type-value` (W3C musicxml.xsd) that are used here, longest first, in ticks. */
const TYPES: readonly (readonly [type: string, ticks: Ticks])[] = [
  ['breve', QUARTER * 8],
  ['whole', QUARTER * 4],
  ['half', QUARTER * 2],
  ['quarter', QUARTER],
  ['eighth', QUARTER / 2],
  ['16th', QUARTER / 4],
  ['32nd', QUARTER / 8],
  ['64th', QUARTER / 16],
  ['128th', QUARTER / 32],
  ['256th', QUARTER / 64],
];

export interface Ratio {
  readonly actual: number;
  readonly normal: number;
}

/** A length as one written note. `type` null: no note value says it; the length stands alone. */
export interface NoteValue {
  /** How long it sounds. */
  readonly length: Ticks;
  readonly type: string | null;
  readonly dots: number;
  readonly ratio: Ratio | null;
}

/** Flags or beams of a note value: an eighth 1, a 16th 2. */
export function flagsOf(type: string | null): number {
  return Math.max(0, TYPES.findIndex(([name]) => name === type) - 3);
}

/** How long a note value with its dots is; null where the name is none of those known here. */
export function ticksOf(type: string, dots: number): Ticks | null {
  const ticks = TYPES.find(([name]) => name === type)?.[1] ?? null;
  return ticks === null || dots > 4 ? null : ticks * (2 - 2 ** -dots);
}

/** One note value with up to two dots that is exactly this long as written, or null. */
function single(written: Ticks): { type: string; dots: number } | null {
  for (const [type, ticks] of TYPES) {
    if (ticks === written) return { type, dots: 0 };
    if (ticks * 1.5 === written) return { type, dots: 1 };
    if (ticks * 1.75 === written) return { type, dots: 2 };
  }
  return null;
}

/** The note value of a beat: `quarter` with its dots; null where there is none. */
export function beatUnit(beat: Ticks): { type: string; dots: number } | null {
  return single(beat);
}

/** Tuplets that a length alone can betray, commonest first. */
const GUESSES: readonly Ratio[] = [
  { actual: 3, normal: 2 },
  { actual: 5, normal: 4 },
  { actual: 7, normal: 4 },
  { actual: 9, normal: 8 },
  { actual: 7, normal: 8 },
];

function withRatio(length: Ticks, ratio: Ratio): NoteValue | null {
  const value = single((length * ratio.actual) / ratio.normal);
  return value && { length, ...value, ratio };
}

/**
 * A length as the notes one writes for it, to be tied together. One value wherever one can say it; else the
 * note is cut at the beats, so that the reader sees them, each piece as long as can be.
 * @param at where the note begins, counted from its bar line
 * @param beat the note to count in
 */
export function noteValues(
  at: Ticks,
  length: Ticks,
  beat: Ticks,
  ratio: Ratio | null = null,
): NoteValue[] {
  if (ratio) {
    const value = withRatio(length, ratio);
    if (value) return [value];
  }
  const whole = single(length);
  if (whole) return [{ length, ...whole, ratio: null }];
  for (const guess of GUESSES) {
    const value = withRatio(length, guess);
    if (value) return [value];
  }
  const offBeat = at % beat;
  const toBeat = offBeat === 0 ? 0 : beat - offBeat;
  if (toBeat > 0 && toBeat < length && single(toBeat)) {
    return [...noteValues(at, toBeat, beat), ...noteValues(at + toBeat, length - toBeat, beat)];
  }
  for (const [type, ticks] of TYPES) {
    for (const [dots, factor] of [
      [1, 1.5],
      [0, 1],
    ] as const) {
      const taken = ticks * factor;
      if (taken >= length || !Number.isInteger(taken)) continue;
      const first: NoteValue = { length: taken, type, dots, ratio: null };
      return [first, ...noteValues(at + taken, length - taken, beat)];
    }
  }
  return [{ length, type: null, dots: 0, ratio: null }];
}
