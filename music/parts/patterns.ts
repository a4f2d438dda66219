import type { Meter, Score, Ticks } from '../score/score.ts';
import { barLength, feltBeat, isPickup, isSecondHalf, meterAt, unitTicks } from '../score/time.ts';
import { TEXTURES, type Texture } from './arrangement.ts';

/**
 * What of a chord is struck: the whole shape; one note of it, the one that helps the singers; in turn its lowest, middle
 * and highest notes. The left hand has one touch, its own: `all`.
 */
export type Touch = 'all' | 'one' | 'low' | 'middle' | 'high';

/** One time that a hand strikes. */
export interface Strike {
  /** In ticks; in a pattern from the bar line, in a score from its start. */
  readonly at: Ticks;
  readonly touch: Touch;
  /** Softer than what was struck before it. */
  readonly soft?: true;
}

/** When each hand strikes in a full bar, in order. What is struck lasts until the hand strikes next. */
export interface Pattern {
  readonly right: readonly Strike[];
  readonly left: readonly Strike[];
}

const HELD: Pattern = { right: [{ at: 0, touch: 'all' }], left: [{ at: 0, touch: 'all' }] };

const strike = (at: Ticks, touch: Touch = 'all'): Strike => ({ at, touch });
const softly = (at: Ticks): Strike => ({ at, touch: 'one', soft: true });

/** As the hand lies: low, middle, high, middle …; in threes low, middle, high. */
const IN_TURN: Readonly<Record<2 | 3, readonly Touch[]>> = {
  2: ['low', 'middle', 'high', 'middle'],
  3: ['low', 'middle', 'high'],
};

/**
 * How a texture is played in a full bar. Figures: common practice; ours are the
 * beat on which the soft note answers (the third of four, else the second) and that in a bar of two beats the last part
 * of the second leads on, as the whole of it would be every beat.
 *
 * Along `TEXTURES` the moments at which anything is struck never get fewer, and neighbours differ in a hand's moments
 * wherever a bar has two felt beats or more. Without a meter there is nothing to count, so every texture is held and struck again
 * at each bar line.
 */
export function patternOf(meter: Meter, texture: Texture): Pattern {
  const full = barLength(meter);
  if (full === null) return HELD;
  const beat = feltBeat(meter);
  const beats = Math.round(full / beat);
  const parts = beat === unitTicks(meter.unit) ? 2 : 3;
  const each = Array.from({ length: beats }, (_, i) => i * beat);
  const part = beat / parts;
  const answer = beats === 4 ? 2 * beat : beats > 1 ? beat : part;
  switch (texture) {
    case 'held':
      return HELD;
    case 'answered':
      return { right: [strike(0), softly(answer)], left: HELD.left };
    case 'leading':
      return { right: [strike(0), strike(full - (beats > 2 ? beat : part))], left: HELD.left };
    case 'every beat':
      return { right: each.map((at) => strike(at)), left: HELD.left };
    case 'swaying':
      return swaying(each, beat, parts);
    case 'broken': {
      const turn = IN_TURN[parts];
      const right = Array.from({ length: beats * parts }, (_, i) =>
        strike(i * part, turn[i % turn.length]),
      );
      return { right, left: HELD.left };
    }
  }
}

/** In four and more: bass, chord, bass, chord. In three: bass, chord, chord. In two: so within each beat. */
function swaying(each: readonly Ticks[], beat: Ticks, parts: 2 | 3): Pattern {
  const isBass = (i: number) => i === 0 || (each.length % 2 === 0 && i % 2 === 0);
  if (each.length > 2)
    return {
      right: each.flatMap((at, i) => (isBass(i) ? [] : [strike(at)])),
      left: each.flatMap((at, i) => (isBass(i) ? [strike(at)] : [])),
    };
  const after = Array.from({ length: parts - 1 }, (_, i) => ((i + 1) * beat) / parts);
  return {
    right: each.flatMap((at) => after.map((later) => strike(at + later))),
    left: each.map((at) => strike(at)),
  };
}

/** When something is struck in a full bar of a meter, in a texture. */
export type Figure = (meter: Meter, texture: Texture) => readonly Strike[];

/**
 * When a hand strikes in one bar of a score, on the score's time line. The beats of a short bar (a pickup, the second half
 * of a bar that a repeat cuts) are counted as if it were full, and it is struck where it begins whatever they say. Where
 * the texture changes inside the bar, each part of it is played as it is there.
 * @param index of the bar, from 0
 */
export function strikesInBar(
  score: Score,
  index: number,
  textureAt: (at: Ticks) => Texture,
  figure: Figure,
): Strike[] {
  const bar = score.bars[index];
  if (!bar) return [];
  const meter = meterAt(score, bar.at);
  const full = barLength(meter) ?? bar.length;
  const half = isSecondHalf(score, index) ? (score.bars[index - 1]?.length ?? 0) : 0;
  const missing = half + (isPickup(bar) ? Math.max(0, full - bar.length) : 0);
  const end = bar.at + bar.length;
  const strikes = new Map<Ticks, Strike>();
  for (const texture of TEXTURES)
    for (let round = 0; round < missing + bar.length; round += full)
      for (const { at, ...how } of figure(meter, texture)) {
        const here = bar.at - missing + round + at;
        const isHere = here >= bar.at && here < end && textureAt(here) === texture;
        if (isHere) strikes.set(here, { at: here, ...how });
      }
  const isShort = missing > 0;
  if (isShort && !strikes.has(bar.at)) strikes.set(bar.at, { at: bar.at, touch: 'all' });
  return [...strikes.values()].sort((a, b) => a.at - b.at);
}

/** The figures of the textures, for each hand. */
export const FIGURES: Readonly<Record<'right' | 'left', Figure>> = {
  right: (meter, texture) => patternOf(meter, texture).right,
  left: (meter, texture) => patternOf(meter, texture).left,
};
