import { numberWord } from '../score/number-words.ts';
import { FELT_BEAT } from './sung.ts';

/** Parts of a beat that have a name, in twelfths. */
const PARTS: Readonly<Record<number, string>> = {
  3: 'a quarter',
  4: 'a third',
  6: 'a half',
  8: 'two thirds',
  9: 'three quarters',
};

/** Felt beats (times `FELT_BEAT`) as a musician says them: `three beats`, `a beat and a half`, `half a beat`. */
export function sayBeats(felt: number): string {
  const whole = Math.floor(felt / FELT_BEAT);
  const twelfths = (12 * (felt - whole * FELT_BEAT)) / FELT_BEAT;
  if (twelfths === 0) return whole === 1 ? 'one beat' : `${numberWord(whole)} beats`;
  const part = PARTS[twelfths];
  if (!part) return aboutBeats(whole, twelfths);
  if (whole === 0) return twelfths === 6 ? 'half a beat' : `${part} of a beat`;
  if (whole === 1) return `a beat and ${part}`;
  return `${numberWord(whole)} and ${part} beats`;
}

function aboutBeats(whole: number, twelfths: number): string {
  if (whole === 0) return twelfths < 6 ? 'less than half a beat' : 'most of a beat';
  if (twelfths < 6)
    return `a little over ${whole === 1 ? 'one beat' : `${numberWord(whole)} beats`}`;
  return `nearly ${numberWord(whole + 1)} beats`;
}

const STEPS = [
  'no room',
  'a half step',
  'a step',
  'a step and a half',
  'two steps',
  'a fourth',
  'three steps',
  'a fifth',
  'a minor sixth',
  'a major sixth',
  'a minor seventh',
  'a major seventh',
  'an octave',
] as const;

/** A distance in semitones as a singer says it: `a half step`, `a fourth`, `more than an octave`. */
export function sayDistance(semitones: number): string {
  return STEPS[Math.abs(semitones)] ?? 'more than an octave';
}
