import type { PitchName } from '../pitch/pitch.ts';
import { turned, WAYS } from './part-fingering-costs.ts';
import {
  fingerer,
  pointsOfPart,
  signOf,
  type Given,
  type PartFingering,
  type PartOptions,
} from './part-fingering.ts';
import { ofShape } from './shape-fingering.ts';
import type { Hand } from './shape.ts';

export interface SettledFingering extends PartFingering {
  /** `optimal`, or `limit`: the search was cut short, and chords that had not settled have their usual fingers. */
  readonly proof: 'optimal' | 'limit';
}

/** Fingers of notes together, low to high, by their keys (`signOf`). */
type Settled = ReadonlyMap<string, readonly number[]>;

/** No way with what has settled has fewer points. */
interface Open extends PartFingering {
  readonly settled: Settled;
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
  { given = [] }: Pick<PartOptions, 'given'> = {},
): SettledFingering {
  const finger = fingerer(hand);
  const wayWith = (settled: Settled) => {
    const fixed = strikes.map((notes, i) => settled.get(signOf(notes)) ?? given[i] ?? null);
    const [fingers = []] = finger(strikes, 1, fixed);
    return pointsOfPart(strikes, fingers, hand);
  };
  const solve = (settled: Settled): Open => ({ settled, ...wayWith(settled) });
  const open: Open[] = [solve(givenTogether(strikes, given))];
  let searches = 1;
  for (;;) {
    open.sort((a, b) => a.total - b.total || nearerThumb(a.fingers, b.fingers, hand));
    const best = open.shift();
    if (!best) throw new RangeError('no way to finger a part');
    const { settled, ...way } = best;
    const unsettled = unsettledIn(strikes, way.fingers);
    if (!unsettled) return { ...way, proof: 'optimal' };
    if (searches >= LIMIT) return { ...wayWith(usualFor(strikes, hand, settled)), proof: 'limit' };
    for (const fingers of WAYS[unsettled.length] ?? []) {
      open.push(solve(new Map(settled).set(signOf(unsettled), turned(fingers, hand))));
      searches += 1;
    }
  }
}

/** What is given for notes together at one place is given wherever they come; the first counts. */
function givenTogether(strikes: readonly (readonly PitchName[])[], given: Given): Settled {
  const all = new Map<string, readonly number[]>();
  strikes.forEach((notes, i) => {
    const [sign, fingers] = [signOf(notes), given[i]];
    if (fingers && notes.length > 1 && !all.has(sign)) all.set(sign, fingers);
  });
  return all;
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

function usualFor(
  strikes: readonly (readonly PitchName[])[],
  hand: Hand,
  settled: Settled,
): Settled {
  const all = new Map(settled);
  for (const notes of strikes) {
    const sign = signOf(notes);
    if (notes.length > 1 && !all.has(sign)) all.set(sign, ofShape(notes, hand));
  }
  return all;
}
