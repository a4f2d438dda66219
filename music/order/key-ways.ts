import type { Key } from '../pitch/key.ts';
import { pitchClassOf } from '../pitch/pitch.ts';
import { pivotsBetween } from './pivots.ts';

/** How many triads two keys share: 7 with the relative key, 4 with the nearest others, 2 or none further off. */
export function commonTriads(from: Key, to: Key): number {
  return pivotsBetween(from, to).length;
}

/** Half steps up from one tonic to another, 0–11. */
export function halfStepsUp(from: Key, to: Key): number {
  return (pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 12) % 12;
}

/** Whether two keys have one tonic and one scale in sound, however they are spelled. */
export function soundsLike(a: Key, b: Key): boolean {
  return a.mode === b.mode && pitchClassOf(a.tonic) === pitchClassOf(b.tonic);
}
