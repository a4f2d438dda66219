import { scaleOf, type Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';

/** A triad as degrees of the octave, root first; its notes tell it from any other. */
type Triad = readonly [number, number, number];

/** The seven triads on the notes of a scale; of minor keys the natural one. */
function triadsOf(key: Key): Triad[] {
  const scale = scaleOf(key).map(pitchClassOf);
  const at = (i: number): number => scale[i % scale.length] ?? 0;
  return scale.map((_, i): Triad => [at(i), at(i + 2), at(i + 4)]);
}

/**
 * How many triads two keys share: 7 with the relative key, 4 with the nearest others, 2 or none further off. A chord that
 * is shared leads from one into the other (pivot chord; Open Music Theory, "Modulation").
 */
export function commonTriads(from: Key, to: Key): number {
  const there = new Set(triadsOf(to).map((triad) => triad.join(' ')));
  return triadsOf(from).filter((triad) => there.has(triad.join(' '))).length;
}

/** Half steps up from one tonic to another, 0–11. */
export function halfStepsUp(from: Key, to: Key): number {
  return (pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 12) % 12;
}

/** Whether two keys have one tonic and one scale in sound, however they are spelled. */
export function soundsLike(a: Key, b: Key): boolean {
  return a.mode === b.mode && pitchClassOf(a.tonic) === pitchClassOf(b.tonic);
}
