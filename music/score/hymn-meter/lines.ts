import type { Place } from './places.ts';

/**
 * What lines of a poem cost. The numbers are ours, their order is common practice: a line ends where the words stop,
 * where the next begins with a capital, and where the tune waits; lines of six, seven and eight syllables are the
 * commonest of hymns, then ten and eleven.
 */
export const LINE_PRICES = {
  /** For a line that ends where nothing speaks for it; and for none where everything does. */
  end: 100,
  /** How much of that each sign is worth; a capital after a stop is more than the two alone, for many nouns have one. */
  stop: 0.3,
  capital: 0.2,
  both: 0.2,
  pause: 0.3,
  /** A line that ends inside a word, or inside a syllable. */
  inside: 200,
  /** A line that has neither the length of the line before it nor of the one before that. */
  uneven: 20,
  /** By the number of syllables, from none; beyond the list `longer` for each. */
  length: [400, 300, 200, 120, 30, 25, 0, 0, 0, 25, 10, 15, 40, 120, 140],
  longer: 40,
  /** No line is longer, whatever the signs. */
  longest: 20,
} as const;

/** Syllables of a line: what most verses have; of equally many the earliest verse's. */
export function syllablesOf(from: Place, to: Place): number {
  const counts = to.before.map((count, verse) => count - (from.before[verse] ?? 0));
  if (counts.every((count) => count === counts[0])) return counts[0] ?? 0;
  const times = (count: number) => counts.filter((each) => each === count).length;
  return counts.reduce((best, each) => (times(each) > times(best) ? each : best), counts[0] ?? 0);
}

function lengthPrice(syllables: number): number {
  const { length, longer } = LINE_PRICES;
  const last = length.length - 1;
  return length[syllables] ?? (length[last] ?? 0) + longer * (syllables - last);
}

/** How much speaks for the end of a line at a place, 0–1. */
function signsOf({ stop, capital, both, pause }: Place): number {
  const { stop: stops, capital: capitals, both: together, pause: pauses } = LINE_PRICES;
  return stops * stop + capitals * capital + together * both + pauses * pause;
}

/** What a line costs by itself: its length, its end, and the signs that it passes over; Infinity where it is too long. */
export function linePrice(places: readonly Place[], from: number, to: number): number {
  const end = places[to] as Place;
  const syllables = syllablesOf(places[from] as Place, end);
  if (syllables > LINE_PRICES.longest) return Infinity;
  const { end: price, inside } = LINE_PRICES;
  const closes = to === places.length - 1;
  const own = closes ? 0 : price * (1 - signsOf(end)) + inside * end.inside;
  let passed = 0;
  for (let place = from + 1; place < to; place += 1) passed += signsOf(places[place] as Place);
  return lengthPrice(syllables) + own + price * passed;
}

/** @param before syllables of the two lines before, the last first; null: there is none */
export function unevenPrice(syllables: number, before: readonly (number | null)[]): number {
  const [last, other] = before;
  if (last === null || last === undefined) return 0;
  return syllables === last || syllables === other ? 0 : LINE_PRICES.uneven;
}

interface State {
  readonly points: number;
  readonly lines: number;
  readonly place: number;
  /** The way up to the line before; null: the poem begins. */
  readonly before: State | null;
  /** Syllables of the last line and of the one before it. */
  readonly last: number | null;
  readonly other: number | null;
}

/**
 * Where the lines of a poem end, as indexes into its places: the cheapest of all ways. Exact (dynamic programming over
 * places; state: the lengths of the last two lines). Of ways with one price the one with fewer lines, then the one that
 * is found first.
 */
export function bestEnds(places: readonly Place[]): { ends: readonly number[]; points: number } {
  const states = places.map(() => new Map<number, State>());
  states[0]?.set(0, { points: 0, lines: 0, place: 0, before: null, last: null, other: null });
  for (let from = 0; from + 1 < places.length; from += 1) {
    const worthwhile = nearBest([...(states[from] as Map<number, State>).values()]);
    for (let to = from + 1; to < places.length && worthwhile.length > 0; to += 1) {
      const own = linePrice(places, from, to);
      if (own === Infinity) continue;
      const last = syllablesOf(places[from] as Place, places[to] as Place);
      for (const before of worthwhile) {
        const points = before.points + own + unevenPrice(last, [before.last, before.other]);
        const state = { points, lines: before.lines + 1, place: to, before, last, other: before.last }; // prettier-ignore
        keep(states[to] as Map<number, State>, state);
      }
    }
  }
  let best: State | null = null;
  for (const state of states.at(-1)?.values() ?? []) {
    if (!best || isBetter(state, best)) best = state;
  }
  const ends: number[] = [];
  for (let state = best; state?.before; state = state.before) ends.unshift(state.place);
  return { ends, points: best?.points ?? 0 };
}

/** The ways that can still be the best: what two lines matter for is the evenness of two more. */
function nearBest(states: readonly State[]): State[] {
  const least = Math.min(...states.map(({ points }) => points));
  return states.filter(({ points }) => points <= least + 2 * LINE_PRICES.uneven + TINY);
}

/** Shares are fractions: what differs by less is one price. */
const TINY = 1e-6;

function isBetter(a: State, b: State): boolean {
  const difference = a.points - b.points;
  if (Math.abs(difference) > TINY) return difference < 0;
  return a.lines < b.lines;
}

function keep(states: Map<number, State>, state: State): void {
  const key = (state.last ?? 0) * 100 + (state.other ?? 0);
  const old = states.get(key);
  if (!old || isBetter(state, old)) states.set(key, state);
}
