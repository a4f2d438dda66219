import type { PitchName } from '../pitch/pitch.ts';
import { turned, usualOf, WAYS } from './part-fingering-costs.ts';
import { pointsOfPart, signOf, waysOf, type Given, type PartFingering } from './part-fingering.ts';
import type { Hand } from './shape.ts';

export interface SettledFingering extends PartFingering {
  /** `optimal`, or `limit`: the search was cut short, and chords that had not settled have their usual fingers. */
  readonly proof: 'optimal' | 'limit';
}

interface Open {
  readonly given: Given;
  readonly fingers: readonly (readonly number[])[];
  /** No way with what is given has fewer points. */
  readonly total: number;
}

/** Searches of `ofPart` that a part may take: hymns need one to a few; a page must not wait for more. */
const LIMIT = 200;

/**
 * As `ofPart`, but the same keys together have the same fingers wherever they come: what is learned once need not be thought
 * of again. Exact, by best first search: where the easiest way gives a chord two fingerings, each fingering is tried for
 * all of its places, and no way is taken while an open one may come before it. Of equals the same one as in `ofPart`.
 */
export function settledOfPart(
  strikes: readonly (readonly PitchName[])[],
  hand: Hand,
): SettledFingering {
  const solve = (given: Given): Open => {
    const [fingers = []] = waysOf(strikes, hand, 1, given);
    return { given, fingers, total: pointsOfPart(strikes, fingers, hand).total };
  };
  const open: Open[] = [solve(new Map())];
  let searches = 1;
  for (;;) {
    open.sort((a, b) => a.total - b.total || nearerThumb(a.fingers, b.fingers, hand));
    const best = open.shift();
    if (!best) throw new RangeError('no way to finger a part');
    const unsettled = unsettledIn(strikes, best.fingers);
    if (!unsettled) return { ...pointsOfPart(strikes, best.fingers, hand), proof: 'optimal' };
    if (searches >= LIMIT) return cutShort(strikes, hand, best.given);
    for (const way of WAYS[unsettled.length] ?? []) {
      open.push(solve(new Map(best.given).set(signOf(unsettled), way)));
      searches += 1;
    }
  }
}

/** Below 0 where the first has the finger nearer the thumb at the strike where they first differ. */
function nearerThumb(
  one: readonly (readonly number[])[],
  other: readonly (readonly number[])[],
  hand: Hand,
): number {
  for (const [i, fingers] of one.entries()) {
    const [first, second] = [turned(fingers, hand), turned(other[i] ?? [], hand)];
    const at = first.findIndex((finger, place) => finger !== second[place]);
    if (at >= 0) return (first[at] ?? 0) - (second[at] ?? 0);
  }
  return 0;
}

/** The first notes together that do not have the same fingers everywhere. */
function unsettledIn(
  strikes: readonly (readonly PitchName[])[],
  fingers: readonly (readonly number[])[],
): readonly PitchName[] | null {
  const met = new Map<string, string>();
  for (const [i, notes] of strikes.entries()) {
    if (notes.length < 2) continue;
    const [sign, here] = [signOf(notes), (fingers[i] ?? []).join()];
    if ((met.get(sign) ?? here) !== here) return notes;
    met.set(sign, here);
  }
  return null;
}

function cutShort(
  strikes: readonly (readonly PitchName[])[],
  hand: Hand,
  given: Given,
): SettledFingering {
  const all = new Map(given);
  for (const notes of strikes) {
    const usual = usualOf(notes, hand);
    if (usual && !all.has(signOf(notes)))
      all.set(signOf(notes), usual.fingers.split(',').map(Number));
  }
  const [fingers = []] = waysOf(strikes, hand, 1, all);
  return { ...pointsOfPart(strikes, fingers, hand), proof: 'limit' };
}
