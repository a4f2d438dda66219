import { transposeNote } from '../../pitch/interval.ts';
import type { Score, Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import { sameHarmony } from './candidates.ts';
import type { Harmony } from './harmony.ts';
import { isDominantOf, type Problem } from './problem.ts';
import { KIND_PRICE, THINNING } from './prices.ts';
import type { Pulse } from './pulse.ts';

/** A chord of the full reading that is kept, and how long it now lasts. */
export interface Kept {
  /** Index into the harmonies. */
  readonly harmony: number;
  readonly at: Ticks;
  readonly end: Ticks;
}

/**
 * Where a beginner's chord may change: every bar; in free meter every two counted notes from the start of a line
 * (a single one left over joins the two before it). Chords that a person wrote cut as they stand.
 */
export function windowsOf(score: Score, pulse: Pulse, harmonies: readonly Harmony[]): Ticks[] {
  const cuts = new Set<Ticks>();
  for (const bar of score.bars) {
    cuts.add(bar.at);
    if (barLength(meterAt(score, bar.at)) !== null) continue;
    const pair = 2 * pulse.beatAt(bar.at);
    for (let at = pair; at + pair <= bar.length; at += pair) cuts.add(bar.at + at);
  }
  for (const harmony of harmonies.filter((each) => each.written)) {
    cuts.add(harmony.at);
    cuts.add(harmony.end);
  }
  const end = harmonies.at(-1)?.end ?? 0;
  return [...cuts, end]
    .filter((at, place, all) => at <= end && all.indexOf(at) === place)
    .sort((a, b) => a - b);
}

/** A dominant: a major triad or a dominant seventh whose root falls a fifth to the next chord's. */
function leadsOn(from: Harmony, to: Harmony | undefined): boolean {
  const { root, kind } = from.chord;
  return (
    (kind === 'major' || kind === 'dominant') &&
    to?.chord.root === transposeNote(root, { steps: 3, semitones: 5 })
  );
}

/**
 * The chords of a window that stay whatever they cost: the last of the tune, and a dominant on a beat before it. A
 * chord counts in the window in which it ends.
 */
function mustKeep(
  { texture }: Problem,
  harmonies: readonly Harmony[],
  at: Ticks,
  end: Ticks,
): number[] {
  const last = harmonies.length - 1;
  const before = harmonies[last - 1];
  const dominant =
    before !== undefined &&
    isDominantOf((harmonies[last] as Harmony).chord.root, before.chord) &&
    texture.pulse.strengthAt(before.at) >= 2;
  return (dominant ? [last - 1, last] : [last]).filter((place) => {
    const harmony = harmonies[place] as Harmony;
    return harmony.end > at && harmony.end <= end;
  });
}

interface Choice {
  readonly points: number;
  readonly kept: readonly Kept[];
}

/** What a harmony costs over a stretch of time that may not be its own: what clashes with it, and its kind. */
function clash(problem: Problem, { candidate, chord }: Harmony, at: Ticks, end: Ticks): number {
  let points = KIND_PRICE[chord.kind] ?? 0;
  problem.stretches.forEach((stretch, place) => {
    if (stretch.at < at || stretch.at >= end) return;
    const price = problem.price(place, candidate);
    points += price.outside + price.rootAbsent;
  });
  return points;
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
  const must = mustKeep(problem, harmonies, at, end);
  const last = here.at(-1) as number;
  const leads = harmonyOf(last).end === end && leadsOn(harmonyOf(last), harmonies[last + 1]);
  const cadence = (kept: number) => (leads && kept !== last ? THINNING.cadence : 0);
  const one = here.map((harmony): Choice => ({
    points: price(harmony, at, end) + cadence(harmony),
    kept: [{ harmony, at, end }],
  }));
  const free = barLength(meterAt(problem.texture.score, at)) === null;
  const seconds = here
    .slice(1)
    .filter((place) => problem.texture.pulse.strengthAt(harmonyOf(place).at) >= 2)
    .filter(() => !free || must.length === 2);
  const two = seconds.flatMap((second) => {
    const change = harmonyOf(second).at;
    // The dominant that leads to the second chord is the one to keep before it.
    const led = leadsOn(harmonyOf(second - 1), harmonyOf(second));
    return here
      .filter((first) => first < second)
      .map((first): Choice => {
        const missed = led && first !== second - 1 ? THINNING.cadence : 0;
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

function changePoints(before: Harmony, after: Harmony): number {
  if (before === after) return 0;
  return sameHarmony(before.chord, after.chord) ? THINNING.bass : THINNING.change;
}

/**
 * A beginner's set: one chord a bar, a second, on a beat, where leaving it out would clash by more than it costs to play (never
 * in free meter). Every chord kept is a chord of the full reading of its own bar; a change is only ever left out,
 * never invented. The last chord stays, and a dominant before
 * it. Exact (dynamic programming over bars); ties keep
 * fewer chords, then those that come first.
 */
export function thinned(problem: Problem, harmonies: readonly Harmony[]): Kept[] {
  const { texture } = problem;
  const windows = windowsOf(texture.score, texture.pulse, harmonies);
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
  return joined(best?.kept ?? [], harmonies);
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

/** Neighbours that are one chord become one. */
function joined(kept: readonly Kept[], harmonies: readonly Harmony[]): Kept[] {
  const result: Kept[] = [];
  for (const each of kept) {
    const last = result.at(-1);
    const [a, b] = [harmonies[last?.harmony ?? -1], harmonies[each.harmony] as Harmony];
    const same = a !== undefined && !a.written && !b.written && sameHarmony(a.chord, b.chord);
    if (last && same && a.chord.bass === b.chord.bass) {
      result[result.length - 1] = { ...last, end: each.end };
    } else result.push(each);
  }
  return result;
}
