/**
 * Places in a row, each with some choices; what a choice costs by itself and what it costs to go
 * from one to the next. A cost has two ranks: `then` decides only where `first` is equal. Whole
 * numbers below 2^53, so that sums are exact.
 */
export interface Places {
  /** Choices at each place; none of them 0. */
  readonly sizes: readonly number[];
  own(place: number): Own;
  /** From place to `place + 1`; from the last to the first in a loop. */
  way(place: number): Way;
}

export interface Own {
  readonly first: Float64Array;
  readonly then: Float64Array;
}

export interface Way {
  /**
   * The first rank from choice a to choice b stands at `first[at + a * choices of the next place +
   * b]`.
   */
  readonly first: Float64Array;
  readonly at: number;
  /** The second rank; asked for only where the first does not decide. */
  then(from: number, to: number): number;
}

/** One choice per place. */
export type Path = readonly number[];

/**
 * The cheapest way through all places: exact, by dynamic programming from the end. Of equally cheap
 * ways the one with the lowest choice at the first place where they differ, so that the answer is
 * the only one. In a loop the way back from the last place to the first counts too, and each choice
 * of the first place is tried in turn.
 */
export function cheapestPath(places: Places, loop: boolean): Path {
  const count = places.sizes.length;
  if (count === 0) return [];
  const work = workspace(places.sizes);
  if (!loop) return open(places, work);
  let best: Path = [];
  let [first, then] = [Infinity, Infinity];
  for (let home = 0; home < (places.sizes[0] as number); home++) {
    toTheEnd(places, work, home);
    const [cost, rest] = [work.first[home] as number, work.then[home] as number];
    if (best.length > 0 && (cost > first || (cost === first && rest >= then))) continue;
    [first, then] = [cost, rest];
    best = follow(places, work, home);
  }
  return best;
}

function open(places: Places, work: Workspace): Path {
  toTheEnd(places, work, null);
  const { first, then } = work;
  let best = 0;
  for (let choice = 1; choice < (places.sizes[0] as number); choice++) {
    const less = (first[choice] as number) - (first[best] as number);
    if (less < 0 || (less === 0 && (then[choice] as number) < (then[best] as number)))
      best = choice;
  }
  return follow(places, work, best);
}

interface Workspace {
  /** Cost to the end of each choice of the place in hand, and of the place ahead of it. */
  first: Float64Array;
  then: Float64Array;
  firstAhead: Float64Array;
  thenAhead: Float64Array;
  /**
   * Where each choice goes on to, place after place; a place's choices begin at `starts[place]`.
   */
  readonly next: Int32Array;
  readonly starts: Int32Array;
}

/** Scratch paper, written over by every call of `cheapestPath`; it grows and stays. */
let paper = { next: new Int32Array(2048), starts: new Int32Array(256) };

function workspace(sizes: readonly number[]): Workspace {
  let total = 0;
  let widest = 0;
  for (const size of sizes) {
    total += size;
    widest = Math.max(widest, size);
  }
  if (total > paper.next.length || sizes.length > paper.starts.length)
    paper = { next: new Int32Array(2 * total), starts: new Int32Array(2 * sizes.length) };
  for (let place = 1; place < sizes.length; place++)
    paper.starts[place] = (paper.starts[place - 1] as number) + (sizes[place - 1] as number);
  return {
    first: new Float64Array(widest),
    then: new Float64Array(widest),
    firstAhead: new Float64Array(widest),
    thenAhead: new Float64Array(widest),
    ...paper,
  };
}

/**
 * Fills in the cost to the end of every first choice; `home`: the first choice to come back to,
 * null: an open way.
 */
function toTheEnd(places: Places, work: Workspace, home: number | null): void {
  const { sizes } = places;
  const last = sizes.length - 1;
  const own = places.own(last);
  const back = home === null ? null : places.way(last);
  const width = sizes[0] as number;
  for (let choice = 0; choice < (sizes[last] as number); choice++) {
    let first = own.first[choice] as number;
    let then = own.then[choice] as number;
    if (back && home !== null) {
      first += back.first[back.at + choice * width + home] as number;
      then += back.then(choice, home);
    }
    work.first[choice] = first;
    work.then[choice] = then;
  }
  for (let place = last - 1; place >= 0; place--) {
    [work.first, work.firstAhead] = [work.firstAhead, work.first];
    [work.then, work.thenAhead] = [work.thenAhead, work.then];
    step(places.own(place), places.way(place), place, sizes, work);
  }
}

function step(own: Own, way: Way, place: number, sizes: readonly number[], work: Workspace): void {
  const { first, then, firstAhead, thenAhead, next } = work;
  const start = work.starts[place] as number;
  const size = sizes[place] as number;
  const width = sizes[place + 1] as number;
  const cost = way.first;
  let at = way.at;
  for (let here = 0; here < size; here++) {
    let best = Infinity;
    let rest = Infinity;
    let to = 0;
    for (let there = 0; there < width; there++, at++) {
      const sum = (cost[at] as number) + (firstAhead[there] as number);
      if (sum > best) continue;
      const behind = way.then(here, there) + (thenAhead[there] as number);
      if (sum < best || behind < rest) {
        best = sum;
        rest = behind;
        to = there;
      }
    }
    first[here] = best + (own.first[here] as number);
    then[here] = rest + (own.then[here] as number);
    next[start + here] = to;
  }
}

function follow(places: Places, work: Workspace, from: number): Path {
  const choices = new Array<number>(places.sizes.length);
  choices[0] = from;
  for (let place = 1; place < choices.length; place++)
    choices[place] = work.next[
      (work.starts[place - 1] as number) + (choices[place - 1] as number)
    ] as number;
  return choices;
}
