import type { Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import type { Harmony } from './harmony.ts';
import type { Problem } from './problem.ts';
import { CHANGE_PRICE, PRICES, THINNING } from './prices.ts';
import {
  changePoints,
  clash,
  isOne,
  joined,
  lastCadence,
  leadsOn,
  windowsOf,
  type Kept,
} from './thinning.ts';

/** `half bar`: one or two chords a bar. `bar`: one, and a second only where it is dearly missed. */
export type Thinner = 'half bar' | 'bar';

/** The best way to keep a chord, with how many chords have sounded in its bar by then. */
interface Way {
  readonly points: number;
  /** Chords kept so far. */
  readonly kept: number;
  /** Index of the way before; −1: it is the first chord. */
  readonly before: number;
  readonly place: number;
  readonly inBar: 1 | 2 | 3;
}

/** What the choice needs to know of the song. */
interface Choices {
  readonly problem: Problem;
  readonly harmonies: readonly Harmony[];
  readonly thinner: Thinner;
  /** Indexes of the harmonies that may be kept. */
  readonly allowed: readonly number[];
  readonly must: ReadonlySet<number>;
  readonly windows: readonly Ticks[];
  /** Where the last of them ends. */
  readonly end: Ticks;
}

/**
 * A thinner set for who plays beside others: changes of the full reading are left out, and nothing else. Every chord
 * begins where the full reading begins it, and lasts over the changes left out after it: at every moment it is a chord
 * that the others have already played. `half bar` leaves changes out of the full reading, `bar` out of `half bar`.
 *
 * A chord that lasts over others costs what its clashes with the voices cost, note by note (`prices.ts`), and lasts
 * over a run of other chords for one bar at most. At most two chords sound in a bar; in free meter each lasts for two
 * counted notes or more. What stays whatever it costs: the first chord, the last and a dominant on a beat before it,
 * and what a person wrote, with the chord after it. Exact (dynamic programming over
 * the chords); of ways with one price the one with fewer chords, then the one that holds each chord, from the last
 * backwards, after the earliest.
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
  const ways: Way[] = [{ points: 0, kept: 1, before: -1, place: 0, inBar: 1 }];
  const ending: number[][] = [[0]];
  for (let place = 1; place < choices.allowed.length; place += 1) {
    const best = new Map<number, Way>();
    for (let from = place - 1; from >= 0 && !isMust(choices, from + 1, place); from -= 1) {
      if (!reaches(choices, from, place)) continue;
      const held = heldPoints(choices, from, place);
      for (const before of ending[from] as number[]) {
        const way = onward(choices, ways[before] as Way, before, place, held);
        const old = best.get(way.inBar);
        if (!old || compare(way, old) <= 0) best.set(way.inBar, way);
      }
    }
    ending.push([...best.values()].map((way) => ways.push(way) - 1));
  }
  return ways;
}

function compare(a: Way, b: Way): number {
  return a.points - b.points || a.kept - b.kept;
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

/** Whether one chord has all the notes of the other: beside A7, an A is no other chord. */
function agree(a: Harmony, b: Harmony): boolean {
  const holds = (all: Harmony, some: Harmony) =>
    some.tones.length > 0 && some.tones.every((tone) => all.tones.includes(tone));
  return holds(a, b) || holds(b, a);
}

/** What a chord costs that lasts until another: its clashes, its kind, and a dominant to the next one left out. */
function heldPoints(choices: Choices, from: number, to: number): number {
  const { problem, harmonies, allowed } = choices;
  const [held, next] = [harmonyAt(choices, from), harmonyAt(choices, to)];
  const before = (allowed[to] as number) - 1;
  const misses = before !== allowed[from] && leadsOn(harmonies[before] as Harmony, next);
  const own = clash(problem, held, held.at, next.at) + bassPoints(problem, held, next.at);
  return own + (misses ? THINNING.cadence : 0);
}

/** A slash bass while the voices have another bass, priced like any bass that is not what it should be. */
function bassPoints({ stretches }: Problem, { chord, at }: Harmony, to: Ticks): number {
  const { bass } = chord;
  if (bass === null) return 0;
  return stretches
    .filter((stretch) => stretch.at >= at && stretch.at < to)
    .map((stretch) => (stretch.sound - (stretch.bass.get(bass) ?? 0)) / stretch.beat)
    .reduce((points, beats) => points + Math.round(PRICES.thirdInBass * beats), 0);
}

function onward(choices: Choices, way: Way, before: number, place: number, held: number): Way {
  const [from, to] = [harmonyAt(choices, way.place), harmonyAt(choices, place)];
  const window = inWindow(choices, to.at);
  const inBar = soundingIn(choices, way, to, window);
  const points = way.points + held + startPoints(choices, from, to, window === to.at, inBar);
  return { points, kept: way.kept + 1, before, place, inBar };
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
  const beginner = thinner === 'bar';
  const crowded = inBar > 2 || (beginner && strength < 2) ? THINNING.crowded : 0;
  return change + (beginner ? THINNING.second : CHANGE_PRICE[strength]) + crowded;
}

function traced(ways: readonly Way[], choices: Choices): { kept: Kept[]; points: number } {
  const { allowed } = choices;
  const final = allowed.length - 1;
  const last = harmonyAt(choices, final);
  let best: Way | null = null;
  for (const way of ways) {
    if (way.place === final && (!best || compare(way, best) < 0)) best = way;
  }
  const kept: Kept[] = [];
  let { end } = choices;
  for (let way = best; way; way = ways[way.before] ?? null) {
    const { at } = harmonyAt(choices, way.place);
    kept.unshift({ harmony: allowed[way.place] as number, at, end });
    end = at;
  }
  const own = clash(choices.problem, last, last.at, choices.end);
  return { kept, points: (best?.points ?? 0) + own };
}
