import type { Chord } from '../../pitch/chord.ts';
import { changeItems, type CostItem } from './cost.ts';
import { slashBass, type Harmony } from './harmony.ts';
import { segmentPrice } from './optimum.ts';
import { changePoints, endPoints, type Problem } from './problem.ts';

/** Another chord in a chord's place. */
export interface Alternative {
  readonly chord: Chord;
  /** Points by which it is worse, 0 and up. */
  readonly distance: number;
}

/** No more than so many, and none so far off that what sounds speaks against it. */
const MOST = 3;
const FAR = { chord: 100, beat: 100 };

/** What a chord of the reading costs, itemised: itself, coming to it, and a cadence that it spoils. */
export function itemsOf(
  problem: Problem,
  harmonies: readonly Harmony[],
  place: number,
): CostItem[] {
  const harmony = harmonies[place] as Harmony;
  const { candidate } = harmony;
  const sums = { outside: 0, bass: 0, root: 0, seventh: 0, triad: 0, silence: 0, present: 0 };
  for (let each = harmony.from; each < harmony.to; each += 1) {
    const price = problem.price(each, candidate);
    sums.outside += price.outside;
    sums.bass += price.bass;
    sums.root += price.rootAbsent;
    sums.seventh += price.seventhAbsent;
    sums.triad += price.triadIgnored;
    sums.silence += price.silence;
    sums.present |= price.present;
  }
  const before = harmonies[place - 1];
  const { change, cadence } = before
    ? changeItems(
        problem.succession(before.candidate, candidate),
        problem.texture.pulse.strengthAt(harmony.at),
      )
    : { change: 0, cadence: 0 };
  const end =
    place === harmonies.length - 1 ? endPoints(problem, before?.candidate ?? null, candidate) : 0;
  const items: CostItem[] = [
    { what: 'notes outside', points: sums.outside },
    { what: 'bass', points: sums.bass },
    { what: 'root absent', points: sums.root },
    { what: 'seventh absent', points: sums.seventh },
    { what: 'triad ignored', points: sums.triad },
    { what: 'silence', points: sums.silence },
    ...problem.wholeItems(candidate, sums.present, harmony.from),
    { what: 'change', points: change },
    { what: 'cadence', points: cadence + end },
  ];
  return items.filter((item) => item.points !== 0);
}

/** The best other chords in the place of one (at most three, none far off), nearest first; ties in the order of the candidates. */
export function alternativesTo(
  problem: Problem,
  harmonies: readonly Harmony[],
  place: number,
): Alternative[] {
  const harmony = harmonies[place] as Harmony;
  const { from, to } = harmony;
  const [before, after] = [harmonies[place - 1], harmonies[place + 1]];
  const priceOf = (candidate: number): number | null => {
    const own = segmentPrice(problem, { from, to, candidate });
    if (own === null) return null;
    const coming = before ? changePoints(problem, before.candidate, candidate, from) : 0;
    const going = after
      ? changePoints(problem, candidate, after.candidate, to)
      : endPoints(problem, before?.candidate ?? null, candidate);
    return own + coming + going;
  };
  const own = priceOf(harmony.candidate);
  const others: Alternative[] = [];
  problem.candidates.forEach((each, candidate) => {
    if (candidate === harmony.candidate || each.tones.length === 0) return;
    const price = priceOf(candidate);
    if (price === null) return;
    const bass = slashBass(problem.texture, each.tones, harmony.at, harmony.end);
    others.push({ chord: { ...each.chord, bass }, distance: Math.max(0, price - (own ?? price)) });
  });
  const beats = (harmony.end - harmony.at) / problem.texture.pulse.beatAt(harmony.at);
  const near = others.filter(({ distance }) => distance <= FAR.chord + FAR.beat * beats);
  return near.sort((a, b) => a.distance - b.distance).slice(0, MOST);
}
