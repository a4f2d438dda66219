import type { Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import type { Harmony } from './harmony.ts';
import { holdingOf, type Holding } from './held.ts';
import type { Problem } from './problem.ts';
import { CHANGE_PRICE, THINNING } from './prices.ts';
import {
  agree,
  changePoints,
  isOne,
  joined,
  lastCadence,
  windowsOf,
  type Kept,
} from './thinning.ts';

/** `half bar`: one or two chords a bar. `bar`: one, and a second only where it is dearly missed. */
export type Thinner = 'half bar' | 'bar';

/** The best way to keep a chord, with how many chords have sounded in its bar by then, and how well they agreed. */
interface Way {
  readonly points: number;
  /** Chords kept so far. */
  readonly kept: number;
  /** Index of the way before; −1: it is the first chord. */
  readonly before: number;
  readonly place: number;
  readonly inBar: 1 | 2 | 3;
  /** How long the chords of its bar have agreed with the full reading, up to where it begins. */
  readonly agreed: Ticks;
}

/** What the choice needs to know of the song. */
interface Choices {
  readonly problem: Problem;
  readonly harmonies: readonly Harmony[];
  readonly thinner: Thinner;
  /** Indexes of the harmonies that may be kept. */
  readonly allowed: readonly number[];
  readonly must: ReadonlySet<number>;
  readonly holding: Holding;
  readonly windows: readonly Ticks[];
  /** Where the last of them ends. */
  readonly end: Ticks;
}

/**
 * A thinner set for who plays beside others: changes of the full reading are left out, and nothing else. Every chord
 * begins where the full reading begins it, and lasts over the changes left out after it: at every moment it is a chord
 * that the others have already played. `half bar` leaves changes out of the full reading, `bar` out of `half bar`.
 *
 * A chord that lasts over others costs what its clashes with the voices cost, note by note, with the dominants that it
 * lasts over, the tune's notes on strong beats that it has not, and the bar lines that it crosses against the voices
 * (`held.ts`, `prices.ts`). It lasts over a run of other chords for one bar at most, and no bar is left with chords
 * that agree with the full reading for a third of its time or less, unless there would be too many in it. At most two
 * chords sound in a bar; in free meter each lasts for two counted notes or more. What stays whatever it costs: the
 * first chord, the last and a dominant on a beat before it, and what a person wrote, with the chord after it. Exact
 * (dynamic programming over the chords); of ways with one price the one with fewer chords, then the one that holds
 * each chord, from the last backwards, after the earliest.
 */
export function leavingOut(
  problem: Problem,
  harmonies: readonly Harmony[],
  thinner: Thinner,
): Kept[] {
  if (harmonies.length === 0) return [];
  const fuller =
    thinner === 'bar' ? leavingOut(problem, harmonies, 'half bar') : everyChord(harmonies);
  return joined(leastPriced(problem, harmonies, thinner, fuller).kept, harmonies);
}

/** What to keep of a fuller set, neighbours of one chord not yet joined, and what it costs. */
export function leastPriced(
  problem: Problem,
  harmonies: readonly Harmony[],
  thinner: Thinner,
  fuller: readonly Kept[],
): { kept: Kept[]; points: number } {
  const { score, pulse } = problem.texture;
  const choices: Choices = {
    problem,
    harmonies,
    thinner,
    allowed: fuller.map(({ harmony }) => harmony),
    must: mustKeep(problem, harmonies),
    holding: holdingOf(problem, harmonies),
    windows: windowsOf(score, pulse),
    end: fuller.at(-1)?.end ?? 0,
  };
  return traced(waysIn(choices), choices);
}

export function everyChord(harmonies: readonly Harmony[]): Kept[] {
  return harmonies.map(({ at, end }, harmony) => ({ harmony, at, end }));
}

function mustKeep(problem: Problem, harmonies: readonly Harmony[]): Set<number> {
  const written = harmonies.flatMap((each, place) => (each.written ? [place, place + 1] : []));
  return new Set([0, ...written, ...lastCadence(problem, harmonies)]);
}

const harmonyAt = ({ harmonies, allowed }: Choices, place: number): Harmony =>
  harmonies[allowed[place] as number] as Harmony;

/** Every chord that may be kept, after every chord that may stand before it. */
function waysIn(choices: Choices): Way[] {
  const ways: Way[] = [{ points: 0, kept: 1, before: -1, place: 0, inBar: 1, agreed: 0 }];
  const ending: number[][] = [[0]];
  const { allowed, holding } = choices;
  for (let place = 1; place < allowed.length; place += 1) {
    const best = new Map<string, Way>();
    for (let from = place - 1; from >= 0 && !isMust(choices, from + 1, place); from -= 1) {
      if (!reaches(choices, from, place)) continue;
      const held = holding.points(allowed[from] as number, allowed[place] as number);
      for (const before of ending[from] as number[]) {
        const way = onward(choices, ways, before, place, held);
        const state = `${way.inBar} ${way.agreed}`;
        const old = best.get(state);
        if (!old || compare(ways, way, old) < 0) best.set(state, way);
      }
    }
    ending.push([...best.values()].map((way) => ways.push(way) - 1));
  }
  return ways;
}

/** Points, then chords kept, then the chords themselves, from the last backwards the earlier one first. */
function compare(ways: readonly Way[], a: Way, b: Way): number {
  if (a.points !== b.points) return a.points - b.points;
  if (a.kept !== b.kept) return a.kept - b.kept;
  let [one, other] = [ways[a.before], ways[b.before]];
  while (one && other && one.place === other.place) {
    [one, other] = [ways[one.before], ways[other.before]];
  }
  return (one?.place ?? 0) - (other?.place ?? 0);
}

/** Whether a chord that must stay lies in [from, to). */
function isMust({ must, allowed }: Choices, from: number, to: number): boolean {
  return allowed.slice(from, to).some((harmony) => must.has(harmony));
}

/** Whether a chord can last until another: over no run of other chords for more than a bar. */
function reaches(choices: Choices, from: number, to: number): boolean {
  const { harmonies, allowed, problem } = choices;
  const { score, pulse } = problem.texture;
  const [first, last] = [allowed[from] as number, allowed[to] as number];
  const own = harmonies[first] as Harmony;
  let run: Ticks | null = null;
  for (const each of harmonies.slice(first + 1, last)) {
    if (agree(own, each)) run = null;
    else run ??= each.at;
    if (run === null) continue;
    const bar = barLength(meterAt(score, run)) ?? 2 * pulse.beatAt(run);
    if (each.end - run > bar) return false;
  }
  return true;
}

function onward(
  choices: Choices,
  ways: readonly Way[],
  before: number,
  place: number,
  held: number,
): Way {
  const way = ways[before] as Way;
  const [from, to] = [harmonyAt(choices, way.place), harmonyAt(choices, place)];
  const window = inWindow(choices, to.at);
  const inBar = soundingIn(choices, way, to, window);
  const { agreed, ignored } = agreement(choices, way, to.at);
  const start = startPoints(choices, from, to, window === to.at, inBar);
  const points = way.points + held + start + THINNING.ignored * ignored;
  return { points, kept: way.kept + 1, before, place, inBar, agreed };
}

/**
 * How long the chords of the bar of a moment agree with the full reading when the last chord of a way lasts until
 * then, and how many bars that end meanwhile agree with it for a third of their time or less.
 */
function agreement(
  choices: Choices,
  way: Way,
  to: Ticks,
): { readonly agreed: Ticks; readonly ignored: number } {
  const { windows, holding, allowed, end } = choices;
  const held = allowed[way.place] as number;
  let { at } = harmonyAt(choices, way.place);
  let [agreed, ignored] = [way.agreed, 0];
  for (let place = windows.findLastIndex((start) => start <= at); at < to; place += 1) {
    const [start, close] = [windows[place] ?? 0, windows[place + 1] ?? end];
    agreed += holding.agreeing(held, at, Math.min(close, to));
    at = Math.min(close, to);
    if (close > to) break;
    if (3 * agreed <= close - start) ignored += 1;
    agreed = 0;
  }
  return { agreed, ignored };
}

function inWindow({ windows }: Choices, at: Ticks): Ticks {
  return windows.findLast((start) => start <= at) ?? 0;
}

function soundingIn(choices: Choices, way: Way, to: Harmony, window: Ticks): 1 | 2 | 3 {
  if (window === to.at) return 1;
  const from = harmonyAt(choices, way.place);
  const same = isOne(from, to);
  if (from.at < window) return same ? 1 : 2;
  if (same) return way.inBar;
  return way.inBar === 1 ? 2 : 3;
}

/** What it costs to change to a chord there. */
function startPoints(
  { problem, thinner }: Choices,
  from: Harmony,
  to: Harmony,
  opens: boolean,
  inBar: number,
): number {
  if (isOne(from, to)) return 0;
  const change = changePoints(from, to);
  const { score, pulse } = problem.texture;
  const free = barLength(meterAt(score, to.at)) === null;
  const hurried = free && to.at - from.at < 2 * pulse.beatAt(to.at) ? THINNING.crowded : 0;
  if (opens) return change + hurried;
  if (free) return change + hurried + THINNING.second;
  const strength = pulse.strengthAt(to.at);
  if (thinner === 'half bar') {
    return change + CHANGE_PRICE[strength] + (inBar > 2 ? THINNING.crowded : 0);
  }
  const crowded = inBar > 2 || strength < 2 ? THINNING.crowded : 0;
  const weak = strength < 3 && hasHalf(problem, to.at) ? THINNING.weak : 0;
  return change + THINNING.second + weak + crowded;
}

/** Whether the bar has a beat on its half, as 4/4 has and 3/4 has not. */
function hasHalf({ texture: { score, pulse } }: Problem, at: Ticks): boolean {
  const length = barLength(meterAt(score, at));
  return length !== null && (length / pulse.beatAt(at)) % 2 === 0;
}

function traced(ways: readonly Way[], choices: Choices): { kept: Kept[]; points: number } {
  const { allowed, holding, harmonies } = choices;
  const final = allowed.length - 1;
  let best: Way | null = null;
  for (const way of ways) {
    if (way.place !== final) continue;
    const whole = { ...way, points: way.points + lastPoints(choices, way) };
    if (!best || compare(ways, whole, best) < 0) best = whole;
  }
  const kept: Kept[] = [];
  let { end } = choices;
  for (let way = best; way; way = ways[way.before] ?? null) {
    const { at } = harmonyAt(choices, way.place);
    kept.unshift({ harmony: allowed[way.place] as number, at, end });
    end = at;
  }
  const own = holding.points(allowed[final] as number, harmonies.length);
  return { kept, points: (best?.points ?? 0) + own };
}

/** What the bars cost in which the last chord ends. */
function lastPoints(choices: Choices, way: Way): number {
  return THINNING.ignored * agreement(choices, way, choices.end).ignored;
}
