import type { Score, Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import { sameHarmony } from './candidates.ts';
import type { Harmony } from './harmony.ts';
import type { Problem } from './problem.ts';
import { THINNING } from './prices.ts';
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

interface Choice {
  readonly points: number;
  readonly kept: readonly Kept[];
}

/** Points that a harmony costs over a stretch of time that may not be its own: what clashes with it there. */
function clash(problem: Problem, harmony: Harmony, at: Ticks, end: Ticks): number {
  let points = 0;
  problem.stretches.forEach((stretch, place) => {
    if (stretch.at < at || stretch.at >= end) return;
    const price = problem.price(place, harmony.candidate);
    points += price.outside + price.rootAbsent;
  });
  return points;
}

function choicesIn(
  problem: Problem,
  harmonies: readonly Harmony[],
  at: Ticks,
  end: Ticks,
): Choice[] {
  const here = harmonies.flatMap((each, place) => (each.at < end && each.end > at ? [place] : []));
  const price = (place: number, from: Ticks, to: Ticks) =>
    clash(problem, harmonies[place] as Harmony, from, to);
  const choices: Choice[] = here.map((harmony) => ({
    points: price(harmony, at, end),
    kept: [{ harmony, at, end }],
  }));
  for (const second of here) {
    const change = (harmonies[second] as Harmony).at;
    if (change <= at) continue;
    for (const first of here) {
      if (first >= second) continue;
      choices.push({
        points: THINNING.second + price(first, at, change) + price(second, change, end),
        kept: [
          { harmony: first, at, end: change },
          { harmony: second, at: change, end },
        ],
      });
    }
  }
  return choices;
}

function changePoints(before: Harmony, after: Harmony): number {
  if (before === after) return 0;
  return sameHarmony(before.chord, after.chord) ? THINNING.bass : THINNING.change;
}

/**
 * A beginner's set: one chord a bar, a second where leaving it out would clash by more than it costs to play. Every
 * chord kept is a chord of the full reading of its own bar; a change is only ever left out, never invented. Exact
 * (dynamic programming over bars); ties keep fewer chords, then the chord that comes first. The last chord stays.
 */
export function thinned(problem: Problem, harmonies: readonly Harmony[]): Kept[] {
  const { texture } = problem;
  const windows = windowsOf(texture.score, texture.pulse, harmonies);
  let states = new Map<number, Choice>();
  for (let place = 0; place + 1 < windows.length; place += 1) {
    const [at, end] = [windows[place] as Ticks, windows[place + 1] as Ticks];
    const next = new Map<number, Choice>();
    const last = place + 2 === windows.length;
    for (const choice of choicesIn(problem, harmonies, at, end)) {
      const final = (choice.kept.at(-1) as Kept).harmony;
      if (last && final !== harmonies.length - 1) continue;
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
