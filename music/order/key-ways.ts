import type { Key } from '../pitch/key.ts';
import { pivotsBetween } from '../score/ways/pivots.ts';

export { halfStepsUp, soundsLike } from '../score/ways/key-distance.ts';

/** How many triads two keys share: 7 with the relative key, 4 with the nearest others, 2 or none further off. */
export function commonTriads(from: Key, to: Key): number {
  return pivotsBetween(from, to).length;
}
