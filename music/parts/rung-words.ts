import { TEXTURES } from './arrangement.ts';
import type { Rungs } from './rungs.ts';

/** A ladder at the keys; of somebody at the bass, `bass`. */
export type Ladder = 'right' | 'left' | 'pedal' | 'texture' | 'bass';

/** What is played on each step of a ladder, in one line, the lowest first: what screens and sheets say of it. */
const STEPS: Readonly<Record<Ladder, readonly string[]>> = {
  right: [
    'the nearest shapes, held',
    'the same shapes, in the texture of the pass',
    'the tune on top where it can be, and carried where the hand waits',
    'fuller and open shapes, and fills at the ends of phrases',
  ],
  left: [
    'the root, held, in one place',
    'the root with its octave, together',
    'the root and the same note an octave up, in turn',
    'root, fifth and octave, with steps into the next chord',
  ],
  pedal: ['no pedal', 'one pedal a chord, changed just after it sounds'],
  texture: TEXTURES.map((texture, i) =>
    i === 0
      ? 'held, however full the pass is'
      : i === TEXTURES.length - 1
        ? 'as full as the pass is'
        : `as the pass is, no fuller than ${texture}`,
  ),
  bass: [
    'the note of each chord, alone',
    'with fifths, and a step into the next chord',
    'a walking line in full passes, the bass of the song in calm ones',
  ],
};

/** The number of the lowest step of a ladder: no pedal is 0. */
const lowestOf = (ladder: Ladder): number => (ladder === 'pedal' ? 0 : 1);

/** The steps of a ladder, the lowest first. */
export function stepsOf<Name extends Ladder>(ladder: Name): Required<Rungs>[Name][] {
  return STEPS[ladder].map((_, i) => (i + lowestOf(ladder)) as Required<Rungs>[Name]);
}

/** `the root with its octave, together`. */
export function sayStep(ladder: Ladder, step: number): string {
  return STEPS[ladder][step - lowestOf(ladder)] ?? '';
}
