import type { OrderProblem } from './problem.ts';

/** More songs than this have more sets than fit the memory of a tablet (2¹⁴ sets × 14 songs × 12 keys). */
export const MOST_SONGS = 14;

/**
 * The problem without its caps: each song that a lead takes costs a fee of that lead instead. `rest(set, song, key)` is
 * the least that all songs outside `set` cost from here on, the joins to them included, where `song` in `key` was placed
 * last; exact, by dynamic programming over sets of songs (Held and Karp 1962; Bellman 1962). With fees it is a bound on
 * what is left of the problem with its caps (Lagrangian relaxation).
 */
export interface Relaxed {
  readonly rest: (set: number, song: number, key: number) => number;
  /** The least for a song in a key at that cost, fee included; Infinity: it is not done in that key. */
  readonly own: (song: number, key: number) => number;
  /** The least for all songs, fees included. */
  readonly least: number;
  /** How many songs each lead takes in one of the cheapest ways. */
  readonly taken: readonly number[];
}

/** What does not change with the fees. */
export interface Tables {
  readonly songs: number;
  readonly keys: number;
  readonly atPlace: Float64Array;
  /** For each place but the last: at `to * width + from`, both song and key, the join between them. */
  readonly joins: readonly Float64Array[];
}

/** Reads every cost once. */
export function tablesOf(problem: OrderProblem): Tables {
  const { choices, keys } = problem;
  const songs = choices.length;
  const atPlace = new Float64Array(songs * songs);
  for (let song = 0; song < songs; song++)
    for (let place = 0; place < songs; place++)
      atPlace[song * songs + place] =
        problem.mayStand?.(song, place) === false ? Infinity : problem.atPlace(song, place);
  const width = songs * keys;
  const joins = Array.from({ length: Math.max(0, songs - 1) }, (_, place) => {
    const table = new Float64Array(width * width);
    for (let from = 0; from < width; from++)
      for (let to = 0; to < width; to++) {
        const [song, next] = [Math.floor(from / keys), Math.floor(to / keys)];
        if (song !== next)
          table[to * width + from] = problem.join(song, from % keys, next, to % keys, place);
      }
    return table;
  });
  return { songs, keys, atPlace, joins };
}

/** @param fees what each lead takes for a song, from 0 */
export function relax(problem: OrderProblem, tables: Tables, fees: readonly number[]): Relaxed {
  const { songs, keys, atPlace, joins } = tables;
  const width = songs * keys;
  const own = new Float64Array(width).fill(Infinity);
  const taker = new Int32Array(width).fill(-1);
  problem.choices.forEach((choices, song) => {
    for (const { key, lead, cost } of choices) {
      const all = cost + (fees[lead] ?? 0);
      const at = song * keys + key;
      if (all >= (own[at] as number)) continue;
      own[at] = all;
      taker[at] = lead;
    }
  });
  const sets = 1 << songs;
  const table = new Float64Array(sets * width).fill(Infinity);
  const sizes = sizesOf(songs);
  for (let at = 0; at < width; at++) table[(sets - 1) * width + at] = 0;
  for (let set = sets - 2; set >= 1; set--) {
    const place = sizes[set] as number;
    const join = joins[place - 1] as Float64Array;
    for (let next = 0; next < songs; next++) {
      const bit = 1 << next;
      const standing = atPlace[next * songs + place] as number;
      if ((set & bit) !== 0 || standing === Infinity) continue;
      const after = (set | bit) * width;
      for (let key = 0; key < keys; key++) {
        const to = next * keys + key;
        const all = (own[to] as number) + standing + (table[after + to] as number);
        if (all === Infinity) continue;
        for (let last = 0; last < songs; last++) {
          if ((set & (1 << last)) === 0) continue;
          const [start, end] = [last * keys, (last + 1) * keys];
          for (let from = start; from < end; from++) {
            const cost = all + (join[to * width + from] as number);
            const here = set * width + from;
            if (cost < (table[here] as number)) table[here] = cost;
          }
        }
      }
    }
  }
  const rest = (set: number, song: number, key: number): number =>
    table[set * width + song * keys + key] as number;
  const found = follow({ songs, keys, width, own, taker, table, tables }, problem.caps.length);
  return { rest, own: (song, key) => own[song * keys + key] as number, ...found };
}

function sizesOf(songs: number): Uint8Array {
  const sizes = new Uint8Array(1 << songs);
  for (let set = 1; set < sizes.length; set++) sizes[set] = (sizes[set >> 1] as number) + (set & 1);
  return sizes;
}

interface Walked {
  readonly songs: number;
  readonly keys: number;
  readonly width: number;
  readonly own: Float64Array;
  readonly taker: Int32Array;
  readonly table: Float64Array;
  readonly tables: Tables;
}

/** Walks one of the cheapest ways from its start and counts the leads. */
function follow(walked: Walked, leads: number): Pick<Relaxed, 'least' | 'taken'> {
  const { songs, keys, width, own, taker, table, tables } = walked;
  const taken = new Array<number>(leads).fill(0);
  let [set, from, least] = [0, -1, 0];
  for (let place = 0; place < songs; place++) {
    let [best, at] = [Infinity, -1];
    for (let to = 0; to < width; to++) {
      const song = Math.floor(to / keys);
      if ((set & (1 << song)) !== 0) continue;
      const join = from < 0 ? 0 : (tables.joins[place - 1]?.[to * width + from] ?? 0);
      const standing = tables.atPlace[song * songs + place] as number;
      const all =
        (own[to] as number) + standing + join + (table[(set | (1 << song)) * width + to] as number);
      if (all < best) [best, at] = [all, to];
    }
    if (place === 0) least = best;
    if (at < 0) return { least: Infinity, taken };
    const lead = taker[at] as number;
    if (lead >= 0) taken[lead] = (taken[lead] ?? 0) + 1;
    set |= 1 << Math.floor(at / keys);
    from = at;
  }
  return { least, taken };
}
