import { cheapestPath, type Places } from '../../hand/best-path.ts';
import { REGISTER } from '../../hand/right-hand-options.ts';
import { between } from '../../hand/motion.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';

/** A chord that may be held in one of some shapes. */
export interface VoicedChord {
  /** What it may be held in, at least one. */
  readonly shapes: readonly Shape[];
  /** What is sung as the chord begins; null: nothing. */
  readonly sung: PitchName | null;
  /** Which phrase it begins in. */
  readonly phrase: number;
  /** Whether a phrase begins after the last strike of the chord before, with it at the latest. */
  readonly begins: boolean;
}

const MIDDLE_TWICE = midiOf(REGISTER.low) + midiOf(REGISTER.high);
const OCTAVE = 12;
/** Octaves that a tune is taken up or down, the first of equals first: all that the register has of any key. */
const OCTAVES = [0, 1, -1, 2, -2, 3, -3, 4, -4] as const;
/** A top up to here lies low: three notes have hardly room, and the left hand is near (ours). */
const LOW_TOP = midiOf('F4');
const HIGH_TOP = midiOf(REGISTER.high);

/** Counts of a song are below it, so that four ranks in one number stay exact. */
const MANY = 2 ** 13;
/** So are the distances of a song from the middle. */
const FAR = 2 ** 20;

/**
 * One shape for each chord out of those that it may be held in, so that each phrase stays in one octave of its tune. In this
 * order of weight, each summed over all chords:
 * 1. tops that fall or rise by more than an octave, but where a phrase begins in between;
 * 2. changes of the octave that the tune is in, inside a phrase;
 * 3. tops at or below F4, or above G5;
 * 4. octaves away from the tune's own pitch;
 * 5. motion; 6. distance from the middle of the register;
 * 7. own pitch before another octave, up before down, and the earlier shape, where two ways first differ.
 * That the tune is on top where its chord has it weighs before all of them: the choices are so (`voicingsOf`). A chord without
 * it is in the octave of those beside it. Exact, by dynamic programming over shapes and octaves.
 */
export function leastMotion(chords: readonly VoicedChord[]): Shape[] {
  const choices = chords.map(choicesOf);
  const path = cheapestPath(placesOf(chords, choices), false);
  return choices.map((here, place) => (here[path[place] ?? 0] as Choice).shape);
}

/** A shape, where the tune is so many octaves away from its own pitch. */
interface Choice {
  readonly shape: Shape;
  readonly octaves: number;
  readonly top: number;
  readonly first: number;
  readonly then: number;
}

function choicesOf({ shapes, sung }: VoicedChord): Choice[] {
  return OCTAVES.flatMap((octaves) =>
    shapes.flatMap((shape): Choice[] => {
      const top = midiOf(shape.notes.at(-1) ?? '');
      const way = sung === null ? null : top - midiOf(sung);
      if (way !== null && way % OCTAVE === 0 && way !== octaves * OCTAVE) return [];
      const isOutside = top <= LOW_TOP || top > HIGH_TOP;
      const first = (isOutside ? MANY : 0) + Math.abs(octaves);
      return [{ shape, octaves, top, first, then: fromMiddle(shape) }];
    }),
  );
}

function placesOf(chords: readonly VoicedChord[], choices: readonly (readonly Choice[])[]): Places {
  const known = new Map<string, number>();
  const motion = ({ notes }: Shape, to: Shape): number => {
    const name = `${notes.join(' ')}|${to.notes.join(' ')}`;
    const found = known.get(name) ?? between(notes, to.notes).total;
    known.set(name, found);
    return found;
  };
  return {
    sizes: choices.map(({ length }) => length),
    own: (place) => {
      const here = choices[place] ?? [];
      return {
        first: Float64Array.from(here, ({ first }) => first),
        then: Float64Array.from(here, ({ then }) => then),
      };
    },
    way: (place) => {
      const [here, there] = [choices[place] ?? [], choices[place + 1] ?? []];
      const [before, after] = [chords[place], chords[place + 1]];
      const isOne = before?.phrase === after?.phrase;
      const cost = (from: Choice, to: Choice): number => {
        const isLeap = !after?.begins && Math.abs(from.top - to.top) > OCTAVE;
        const isChange = isOne && from.octaves !== to.octaves;
        return (isLeap ? MANY ** 3 : 0) + (isChange ? MANY ** 2 : 0);
      };
      const first = here.flatMap((from) => there.map((to) => cost(from, to)));
      const then = (from: number, to: number): number => {
        const [a, b] = [here[from], there[to]];
        return a && b ? motion(a.shape, b.shape) * FAR : 0;
      };
      return { first: Float64Array.from(first), at: 0, then };
    },
  };
}

function fromMiddle({ notes }: Shape): number {
  const [low, high] = [notes[0], notes.at(-1)];
  return low && high ? Math.abs(midiOf(low) + midiOf(high) - MIDDLE_TWICE) : 0;
}
