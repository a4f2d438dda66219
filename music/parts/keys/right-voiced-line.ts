import { cheapestPath, type Places } from '../../hand/best-path.ts';
import { REGISTER } from '../../hand/right-hand-options.ts';
import { between } from '../../hand/motion.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf } from '../../pitch/pitch.ts';

const MIDDLE_TWICE = midiOf(REGISTER.low) + midiOf(REGISTER.high);

/**
 * One shape for each chord out of those that it may be held in: least motion in all, then nearest to the middle of the
 * register in all, then the earlier shape where two ways first differ. Exact, by dynamic programming.
 * @param choices none of them empty
 */
export function leastMotion(choices: readonly (readonly Shape[])[]): Shape[] {
  const known = new Map<string, number>();
  const motion = (from: Shape, to: Shape): number => {
    const name = `${from.notes.join(' ')}|${to.notes.join(' ')}`;
    const found = known.get(name) ?? between(from.notes, to.notes).total;
    known.set(name, found);
    return found;
  };
  const places: Places = {
    sizes: choices.map(({ length }) => length),
    own: (place) => {
      const here = choices[place] ?? [];
      return {
        first: new Float64Array(here.length),
        then: Float64Array.from(here, fromMiddle),
      };
    },
    way: (place) => {
      const [here, there] = [choices[place] ?? [], choices[place + 1] ?? []];
      const first = here.flatMap((from) => there.map((to) => motion(from, to)));
      return { first: Float64Array.from(first), at: 0, then: () => 0 };
    },
  };
  const path = cheapestPath(places, false);
  return choices.map((shapes, place) => shapes[path[place] ?? 0] as Shape);
}

function fromMiddle({ notes }: Shape): number {
  const [low, high] = [notes[0], notes.at(-1)];
  return low && high ? Math.abs(midiOf(low) + midiOf(high) - MIDDLE_TWICE) : 0;
}
