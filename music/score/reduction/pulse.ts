import type { Bar, Score, Ticks } from '../score.ts';
import { barAt, barLength, feltBeat, meterAt, soundingNotes, unitTicks } from '../time.ts';

/**
 * How strong a moment is in its bar: 4 the first of a bar, 3 its half (beat 3 of 4/4, the second felt beat of 6/8),
 * 2 any other beat, 1 half a beat (a third of a compound one), 0 anything between.
 */
export type Strength = 0 | 1 | 2 | 3 | 4;

/** How the bars of a score are counted, asked for by moment. */
export interface Pulse {
  strengthAt(at: Ticks): Strength;
  /** Length of a felt beat there, in ticks. */
  beatAt(at: Ticks): Ticks;
  /** Whether that beat divides into three. */
  isCompoundAt(at: Ticks): boolean;
}

/** How many voices begin a note at each moment. */
export function attacksOf(score: Score): ReadonlyMap<Ticks, number> {
  const attacks = new Map<Ticks, number>();
  for (const voice of score.voices) {
    for (const at of new Set(soundingNotes(voice).map((note) => note.at))) {
      attacks.set(at, (attacks.get(at) ?? 0) + 1);
    }
  }
  return attacks;
}

/** A pickup is counted as the end of a full bar. */
function barStart(score: Score, bar: Bar): Ticks {
  const full = barLength(meterAt(score, bar.at));
  return bar.number === 0 && full !== null && full > bar.length
    ? bar.at - (full - bar.length)
    : bar.at;
}

/**
 * Tunes in 6/8 are at times printed in 3/4 with dotted rhythms throughout (Greensleeves, Stille Nacht): where more
 * voices move at the half of the bars than on their second and third beats together, the bar has two felt beats.
 */
function movesInHalves(score: Score, attacks: ReadonlyMap<Ticks, number>): boolean {
  let half = 0;
  let thirds = 0;
  for (const bar of score.bars) {
    const meter = meterAt(score, bar.at);
    if (meter.beats !== 3) continue;
    const beat = unitTicks(meter.unit);
    const start = barStart(score, bar);
    half += attacks.get(start + 1.5 * beat) ?? 0;
    thirds += (attacks.get(start + beat) ?? 0) + (attacks.get(start + 2 * beat) ?? 0);
  }
  return half > thirds / 2;
}

function divides(beat: Ticks, offset: Ticks): boolean {
  return offset % beat === 0;
}

export function pulseOf(score: Score): Pulse {
  const halves = movesInHalves(score, attacksOf(score));
  const beatAt = (at: Ticks): Ticks => {
    const meter = meterAt(score, at);
    return meter.beats === 3 && halves ? 1.5 * unitTicks(meter.unit) : feltBeat(meter);
  };
  const strengthAt = (at: Ticks): Strength => {
    const bar = barAt(score, at);
    const offset = at - barStart(score, bar);
    if (offset === 0) return 4;
    const beat = beatAt(bar.at);
    const length = barLength(meterAt(score, bar.at));
    const beats = length === null ? 0 : length / beat;
    if (beats % 2 === 0 && beats > 0 && offset * 2 === length) return 3;
    if (divides(beat, offset)) return 2;
    const unit = unitTicks(meterAt(score, bar.at).unit);
    const part = beat === unit ? beat / 2 : beat / 3;
    return divides(part, offset) ? 1 : 0;
  };
  const isCompoundAt = (at: Ticks) => beatAt(at) !== unitTicks(meterAt(score, at).unit);
  return { strengthAt, beatAt, isCompoundAt };
}
