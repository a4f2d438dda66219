import type { Key } from '../../pitch/key.ts';
import { pitchClassOf } from '../../pitch/pitch.ts';

/** Half steps up from one tonic to another, 0–11. */
export function halfStepsUp(from: Key, to: Key): number {
  return (pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 12) % 12;
}

/** Whether two keys have one tonic and one scale in sound, however they are spelled. */
export function soundsLike(a: Key, b: Key): boolean {
  return a.mode === b.mode && pitchClassOf(a.tonic) === pitchClassOf(b.tonic);
}
