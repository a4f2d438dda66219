/** A way to do one song, with what it costs as far as that is known. */
export interface LazyWay<T> {
  readonly way: T;
  /** Whole points, from 0; never more than `cost()`. */
  readonly atLeast: number;
  /** All of its points; asked for only where the choice hangs on it. */
  readonly cost: () => number;
}

/**
 * One way for each song, in their order, so that all costs and the joins between neighbours are least; of choices with equal
 * costs the first, song by song, in the order the ways are given. Exact: what is not known yet counts with a cost that it
 * cannot come below, and the best choice stands once its own costs are known. Where a song has one way only, nothing hangs
 * on its cost, and it is not asked for.
 * @param join whole points from 0 from a way of the song at a place to one of the next
 * @returns for each song the index of its way; null: one of them has none
 */
export function leastPath<T>(
  songs: readonly (readonly LazyWay<T>[])[],
  join: (place: number, from: T, to: T) => number,
): readonly number[] | null {
  const known = songs.map((ways) => ways.map((): number | null => (ways.length === 1 ? 0 : null)));
  for (;;) {
    const chosen = shortest(songs, known, join);
    let isKnown = true;
    chosen?.forEach((choice, place) => {
      const way = songs[place]?.[choice];
      if (!way || known[place]?.[choice] !== null) return;
      const cost = way.cost();
      (known[place] as (number | null)[])[choice] = cost;
      isKnown &&= cost === way.atLeast;
    });
    if (isKnown) return chosen;
  }
}

/** From the last song backwards: what is left to pay from each way on (Bellman's recursion). */
function shortest<T>(
  songs: readonly (readonly LazyWay<T>[])[],
  known: readonly (readonly (number | null)[])[],
  join: (place: number, from: T, to: T) => number,
): number[] | null {
  const costAt = (place: number, choice: number): number =>
    known[place]?.[choice] ?? songs[place]?.[choice]?.atLeast ?? Infinity;
  const rest: number[][] = songs.map((ways) => ways.map(() => 0));
  const next: number[][] = songs.map((ways) => ways.map(() => -1));
  for (let place = songs.length - 1; place >= 0; place -= 1) {
    songs[place]?.forEach(({ way }, choice) => {
      let least = place === songs.length - 1 ? 0 : Infinity;
      songs[place + 1]?.forEach((after, to) => {
        const cost = join(place, way, after.way) + (rest[place + 1]?.[to] ?? Infinity);
        if (cost >= least) return;
        least = cost;
        (next[place] as number[])[choice] = to;
      });
      (rest[place] as number[])[choice] = costAt(place, choice) + least;
    });
  }
  const first = rest[0] ?? [];
  const cost = songs.length === 0 ? 0 : Math.min(...first, Infinity);
  if (!Number.isFinite(cost)) return null;
  const chosen: number[] = [];
  for (let place = 0; place < songs.length; place += 1) {
    const before = chosen.at(-1);
    chosen.push(before === undefined ? first.indexOf(cost) : (next[place - 1]?.[before] ?? -1));
  }
  return chosen;
}
