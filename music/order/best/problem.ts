/**
 * The bare question of a best order, in whole numbers: which song stands where, in which key and who leads it, so that
 * all costs together are least. Costs are whole numbers from 0 up to a million, so that sums are exact.
 */
export interface OrderProblem {
  /** For each song, the ways in which it can be done; a song without any makes the whole impossible. */
  readonly choices: readonly (readonly Choice[])[];
  /** How many keys there are; `Choice.key` is below it. */
  readonly keys: number;
  /** How many songs each lead takes at most; by index of the lead. */
  readonly caps: readonly number[];
  /** Which songs may stand at a place; missing: all. Places are counted from 0 and there are as many as songs. */
  readonly mayStand?: (song: number, place: number) => boolean;
  /** What it costs that a song stands at a place. */
  readonly atPlace: (song: number, place: number) => number;
  /** What it costs that one song, in a key, is followed by another at the next place; `place` is that of the first. */
  readonly join: (
    from: number,
    fromKey: number,
    to: number,
    toKey: number,
    place: number,
  ) => number;
}

/** One way in which a song is done. */
export interface Choice {
  readonly key: number;
  /** Index of the lead; −1: nobody leads it. */
  readonly lead: number;
  readonly cost: number;
}

/** A song at its place, and how it is done. */
export interface Placed {
  readonly song: number;
  /** Index among the choices of the song. */
  readonly choice: number;
}

export interface Solution {
  /** Place by place. */
  readonly placed: readonly Placed[];
  readonly cost: number;
}

/** What a search came to. */
export interface Solved {
  /** The best first, all of them different; none: nothing fits. */
  readonly best: readonly Solution[];
  /**
   * No solution costs less than this. Equal to the cost of the first: that one is proved to be the best; below it, what
   * lies between is the gap that is left.
   */
  readonly bound: number;
  /** Steps that the search took. */
  readonly steps: number;
}

/** What a solution costs, added up anew from the problem alone. */
export function costOf(problem: OrderProblem, placed: readonly Placed[]): number {
  return placed.reduce((sum, { song, choice }, place) => {
    const own = problem.choices[song]?.[choice];
    const next = placed[place + 1];
    const after = next && problem.choices[next.song]?.[next.choice];
    if (!own) throw new RangeError(`song ${song} has no choice ${choice}`);
    const join = next && after ? problem.join(song, own.key, next.song, after.key, place) : 0;
    return sum + own.cost + problem.atPlace(song, place) + join;
  }, 0);
}
