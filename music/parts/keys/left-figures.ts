import type { Meter, Ticks } from '../../score/score.ts';
import { barLength, feltBeat } from '../../score/time.ts';
import type { Texture } from '../arrangement.ts';
import { patternOf, type Figure } from '../patterns.ts';
import type { Rungs } from '../rungs.ts';

/**
 * When the left hand strikes on its rungs. On the first two with the bass of the texture. From the third on it gives a
 * pulse (common practice): twice a bar, on the first beat and the middle one, while the texture is calm; on
 * every felt beat where the texture is full, or leads on and there are no drums, as then the keyboard keeps the pulse.
 * Swaying, the right hand has the other beats, and the left keeps to the bass.
 */
export function leftFigure(rung: Rungs['left'], hasDrums: boolean): Figure {
  return (meter, texture) => {
    if (rung < 3 || texture === 'swaying') return patternOf(meter, texture).left;
    return pulse(meter, isFull(texture, hasDrums)).map((at) => ({ at, touch: 'all' }));
  };
}

const isFull = (texture: Texture, hasDrums: boolean): boolean =>
  texture === 'every beat' || texture === 'broken' || (texture === 'leading' && !hasDrums);

function pulse(meter: Meter, full: boolean): Ticks[] {
  const length = barLength(meter);
  if (length === null) return [0];
  const beat = feltBeat(meter);
  const beats = Math.round(length / beat);
  if (full) return Array.from({ length: beats }, (_, i) => i * beat);
  if (beats < 2) return [0];
  return [0, beats % 2 === 0 ? length / 2 : beat];
}
