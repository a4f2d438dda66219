import type { Meter, Ticks } from '../score/score.ts';
import { unitTicks } from '../score/time.ts';

/** A length in words: `3 beats`, `1.5 beats`, in the meter's lower figure. */
export function sayBeats(ticks: Ticks, meter: Meter): string {
  const beats = Math.round((ticks / unitTicks(meter.unit)) * 1000) / 1000;
  return `${String(beats)} ${beats === 1 ? 'beat' : 'beats'}`;
}
