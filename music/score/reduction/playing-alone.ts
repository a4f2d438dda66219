import type { Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import type { Harmony } from './harmony.ts';
import type { Problem } from './problem.ts';
import { THINNING } from './prices.ts';
import {
  changePoints,
  clash,
  joined,
  lastCadence,
  leadsOn,
  windowsOf,
  type Kept,
} from './thinning.ts';

/** Chords of a bar, or of a song up to one. */
interface Choice {
  readonly points: number;
  readonly kept: readonly Kept[];
}

/** Every way to play a window with one chord or with two. */
function choicesIn(
  problem: Problem,
  harmonies: readonly Harmony[],
  at: Ticks,
  end: Ticks,
): Choice[] {
  const here = harmonies.flatMap((each, place) => (each.at < end && each.end > at ? [place] : []));
  const harmonyOf = (place: number) => harmonies[place] as Harmony;
  const price = (place: number, from: Ticks, to: Ticks) =>
    clash(problem, harmonyOf(place), from, to);
  // A chord counts in the window in which it ends.
  const must = lastCadence(problem, harmonies).filter((place) => {
    const harmony = harmonyOf(place);
    return harmony.end > at && harmony.end <= end;
  });
  const last = here.at(-1) as number;
  const leads = harmonyOf(last).end === end && leadsOn(harmonyOf(last), harmonies[last + 1]);
  const cadence = (kept: number) => (leads && kept !== last ? THINNING.cadenceAlone : 0);
  const one = here.map((harmony): Choice => ({
    points: price(harmony, at, end) + cadence(harmony),
    kept: [{ harmony, at, end }],
  }));
  const free = barLength(meterAt(problem.texture.score, at)) === null;
  // The last chord stays, and so it may come off the beat, too.
  const closes = must.find((place) => place === harmonies.length - 1);
  const onBeat = (place: number) => problem.texture.pulse.strengthAt(harmonyOf(place).at) >= 2;
  const seconds = here
    .slice(1)
    .filter((place) => place === closes || (onBeat(place) && (!free || must.length === 2)));
  const two = seconds.flatMap((second) => {
    const change = harmonyOf(second).at;
    // The dominant that leads to the second chord is the one to keep before it.
    const led = leadsOn(harmonyOf(second - 1), harmonyOf(second));
    return here
      .filter((first) => first < second)
      .map((first): Choice => {
        const missed = led && first !== second - 1 ? THINNING.cadenceAlone : 0;
        const own = price(first, at, change) + price(second, change, end);
        return {
          points: THINNING.second + own + missed + cadence(second),
          kept: [
            { harmony: first, at, end: change },
            { harmony: second, at: change, end },
          ],
        };
      });
  });
  const kept = ({ kept: chords }: Choice) => chords.map((each) => each.harmony);
  return [...one, ...two].filter((choice) => must.every((each) => kept(choice).includes(each)));
}

/** Where a chord may change: at the windows; chords that a person wrote cut as they stand. */
function cutsOf({ texture }: Problem, harmonies: readonly Harmony[]): Ticks[] {
  const end = harmonies.at(-1)?.end ?? 0;
  const written = harmonies.filter((each) => each.written).flatMap(({ at, end }) => [at, end]);
  const cuts = new Set([...windowsOf(texture.score, texture.pulse), ...written, end]);
  return [...cuts].filter((at) => at <= end).sort((a, b) => a - b);
}

/**
 * The reharmonised set, for who plays alone: one chord a bar, a second, on a beat, where leaving it out would clash by
 * more than it costs to play (never in free meter). Every chord is one of the full reading of its own bar, but it may
 * sound where the full reading still has another: beside players of that reading it clashes. The last chord stays, and
 * a dominant before it. Exact (dynamic programming over bars); ties keep fewer chords, then those that come first.
 */
export function forAlone(problem: Problem, harmonies: readonly Harmony[]): Kept[] {
  return joined(leastAlone(problem, harmonies).kept, harmonies);
}

/** The same with its price, neighbours of one chord not yet joined. */
export function leastAlone(problem: Problem, harmonies: readonly Harmony[]): Choice {
  const windows = cutsOf(problem, harmonies);
  let states = new Map<number, Choice>();
  for (let place = 0; place + 1 < windows.length; place += 1) {
    const [at, to] = [windows[place] as Ticks, windows[place + 1] as Ticks];
    const next = new Map<number, Choice>();
    for (const choice of choicesIn(problem, harmonies, at, to)) {
      const final = (choice.kept.at(-1) as Kept).harmony;
      const best = bestBefore(states, harmonies, choice);
      const old = next.get(final);
      if (!old || best.points < old.points) next.set(final, best);
    }
    states = next;
  }
  let best: Choice | null = null;
  for (const state of states.values()) if (!best || state.points < best.points) best = state;
  return best ?? { points: 0, kept: [] };
}

function bestBefore(
  states: ReadonlyMap<number, Choice>,
  harmonies: readonly Harmony[],
  choice: Choice,
): Choice {
  let best: Choice | null = null;
  const first = harmonies[(choice.kept[0] as Kept).harmony] as Harmony;
  for (const [harmony, state] of states) {
    const change = changePoints(harmonies[harmony] as Harmony, first);
    const points = state.points + change + choice.points;
    if (!best || points < best.points) best = { points, kept: [...state.kept, ...choice.kept] };
  }
  return best ?? choice;
}
