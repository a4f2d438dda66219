/** Costs of two ranks: `then` decides only where `first` is equal. Whole numbers below 2^53, so that sums are exact. */
export interface Costs {
  readonly first: Float64Array;
  readonly then: Float64Array;
}

/** Places in a row, each with some choices; what a choice costs by itself and what it costs to go from one to the next. */
export interface Places {
  /** Choices at each place; none of them 0. */
  readonly sizes: readonly number[];
  /** Cost of each choice at a place. */
  own(place: number): Costs;
  /** Cost from place to `place + 1` (from the last to the first in a loop), at `[from * size of next + to]`. */
  way(place: number): Costs;
}

export interface Path {
  /** One choice per place. */
  readonly choices: number[];
  readonly first: number;
  readonly then: number;
}

/**
 * The cheapest way through all places: exact, by dynamic programming from the end. Of equally cheap ways the one with
 * the lowest choice at the first place where they differ, so that the answer is the only one. In a loop the way
 * back from the last place to the first counts too, and each choice of the first place is tried in turn.
 */
export function cheapestPath(places: Places, loop: boolean): Path {
  const count = places.sizes.length;
  if (count === 0) return { choices: [], first: 0, then: 0 };
  if (!loop) return from(places, null);
  let best: Path | null = null;
  for (let start = 0; start < (places.sizes[0] as number); start++) {
    const path = from(places, start);
    if (!best || path.first < best.first || (path.first === best.first && path.then < best.then))
      best = path;
  }
  return best as Path;
}

/** `home`: the choice of the first place that the way must start from and come back to; null: an open way. */
function from(places: Places, home: number | null): Path {
  const { sizes } = places;
  const last = sizes.length - 1;
  const next: Int32Array[] = new Array<Int32Array>(sizes.length);
  let { first, then } = places.own(last);
  if (home !== null) {
    const way = places.way(last);
    const width = sizes[0] as number;
    first = first.map((cost, choice) => cost + (way.first[choice * width + home] as number));
    then = then.map((cost, choice) => cost + (way.then[choice * width + home] as number));
  }
  for (let place = last - 1; place >= 0; place--) {
    const size = sizes[place] as number;
    const chosen = new Int32Array(size);
    const reached = { first: new Float64Array(size), then: new Float64Array(size) };
    step(places.own(place), places.way(place), { first, then }, reached, chosen);
    next[place] = chosen;
    ({ first, then } = reached);
  }
  let choice = home ?? lowest(first, then);
  const path: Path = {
    choices: [choice],
    first: first[choice] as number,
    then: then[choice] as number,
  };
  for (let place = 0; place < last; place++) {
    choice = (next[place] as Int32Array)[choice] as number;
    path.choices.push(choice);
  }
  return path;
}

/** Cost to the end of every choice of one place, from that of the next place. */
function step(own: Costs, way: Costs, ahead: Costs, reached: Costs, chosen: Int32Array): void {
  const width = ahead.first.length;
  for (let here = 0; here < chosen.length; here++) {
    let first = Infinity;
    let then = Infinity;
    let to = 0;
    const row = here * width;
    for (let there = 0; there < width; there++) {
      const cost = (way.first[row + there] as number) + (ahead.first[there] as number);
      if (cost > first) continue;
      const rest = (way.then[row + there] as number) + (ahead.then[there] as number);
      if (cost < first || rest < then) {
        first = cost;
        then = rest;
        to = there;
      }
    }
    reached.first[here] = first + (own.first[here] as number);
    reached.then[here] = then + (own.then[here] as number);
    chosen[here] = to;
  }
}

function lowest(first: Float64Array, then: Float64Array): number {
  let best = 0;
  for (let choice = 1; choice < first.length; choice++) {
    const less = (first[choice] as number) - (first[best] as number);
    if (less < 0 || (less === 0 && (then[choice] as number) < (then[best] as number)))
      best = choice;
  }
  return best;
}
