/** How notes that were asked lie on a tune, in one key. */
export interface Alignment {
  /** In hundredths of a note. */
  readonly distance: number;
  /** Index of the first note of the tune that is matched. */
  readonly from: number;
}

/** What the parts of a distance cost, in hundredths; our own choice, held to by the rank of hymns that are asked with a wrong note. */
export const COSTS = {
  /** A note that is another: this, and more for each semitone beyond the first, up to the whole. */
  other: 50,
  eachSemitone: 5,
  otherAtMost: 100,
  /** A note too many or missing. */
  gap: 100,
  /** One that only repeats the note before it, too many or missing. */
  repeated: 35,
} as const;

export function costOfOther(one: number, other: number): number {
  const semitones = Math.abs(one - other);
  if (semitones === 0) return 0;
  return Math.min(COSTS.otherAtMost, COSTS.other + COSTS.eachSemitone * (semitones - 1));
}

/** What it costs to pass over a note of a list. */
export function costOfGap(list: readonly number[], at: number): number {
  return at > 0 && list[at] === list[at - 1] ? COSTS.repeated : COSTS.gap;
}

type Rows = [cost: Int32Array, begin: Int32Array, nextCost: Int32Array, nextBegin: Int32Array];

/**
 * Room for two rows of the table: a row stands for how many asked notes are laid, a column for the note of the tune they
 * end before. Kept between calls, as making it takes longer than filling it; every call fills it anew.
 */
let rows: Rows = makeRows(128);
function makeRows(width: number): Rows {
  const make = (): Int32Array => new Int32Array(width);
  return [make(), make(), make(), make()];
}
function rowsFor(width: number): Rows {
  if (rows[0].length < width) rows = makeRows(2 * width);
  return [...rows];
}

/**
 * The least cost of laying the asked notes, in order, on a stretch of the tune in this key: exact, by dynamic programming
 * over both. The stretch may begin and end anywhere; where it does not begin with the tune, `elsewhere` is added while
 * stretches are compared and is not part of the distance. Of equally cheap stretches the one that begins first counts.
 * Null: every stretch costs more than `most`, with `elsewhere`; the table is left as soon as a row of it says so.
 */
export function leastCost(
  asked: readonly number[],
  tune: readonly number[],
  elsewhere: number,
  most = Infinity,
): Alignment | null {
  const width = tune.length + 1;
  let [cost, begin, nextCost, nextBegin] = rowsFor(width);
  for (let j = 0; j < width; j += 1) {
    cost[j] = j === 0 ? 0 : elsewhere;
    begin[j] = j;
  }
  for (let i = 1; i <= asked.length; i += 1) {
    const note = asked[i - 1] ?? 0;
    const tooMany = costOfGap(asked, i - 1);
    let leastOfRow = Infinity;
    for (let j = 0; j < width; j += 1) {
      let least = (cost[j] ?? 0) + tooMany;
      let from = begin[j] ?? 0;
      if (j > 0) {
        const laid = (cost[j - 1] ?? 0) + costOfOther(note, tune[j - 1] ?? 0);
        const laidFrom = begin[j - 1] ?? 0;
        if (laid < least || (laid === least && laidFrom < from)) [least, from] = [laid, laidFrom];
        const missing = (nextCost[j - 1] ?? 0) + costOfGap(tune, j - 1);
        const missingFrom = nextBegin[j - 1] ?? 0;
        if (missing < least || (missing === least && missingFrom < from)) {
          [least, from] = [missing, missingFrom];
        }
      }
      nextCost[j] = least;
      nextBegin[j] = from;
      if (least < leastOfRow) leastOfRow = least;
    }
    // No price is below nothing, so that no later row is cheaper.
    if (leastOfRow > most) return null;
    [cost, begin, nextCost, nextBegin] = [nextCost, nextBegin, cost, begin];
  }
  let end = 0;
  for (let j = 1; j < width; j += 1) {
    const [here, least] = [cost[j] ?? 0, cost[end] ?? 0];
    if (here < least || (here === least && (begin[j] ?? 0) < (begin[end] ?? 0))) end = j;
  }
  const from = begin[end] ?? 0;
  return { distance: (cost[end] ?? 0) - (from === 0 ? 0 : elsewhere), from };
}

/** A key to try. */
export interface Move {
  /** Semitones from the asked notes to the tune. */
  readonly by: number;
  /** No distance in this key is less. */
  readonly atLeast: number;
}

/**
 * What it costs at least to lay a note somewhere on the tune, by its height above `lowest`; a height outside is as far
 * as the end that is nearer, and farther.
 */
function cheapestOn(tune: readonly number[], lowest: number, highest: number): number[] {
  const there = new Set(tune);
  return Array.from({ length: highest - lowest + 1 }, (_, i) => {
    let off = 0;
    while (!there.has(lowest + i - off) && !there.has(lowest + i + off)) off += 1;
    return costOfOther(0, off);
  });
}

/**
 * The keys to try, the most promising first. However the notes are laid, each costs at least what the nearest note of the
 * tune costs in its place, or being passed over.
 */
export function movesTo(asked: readonly number[], tune: readonly number[]): Move[] {
  const [low, high] = [Math.min(...tune), Math.max(...tune)];
  const cheapest = cheapestOn(tune, low, high);
  const gaps = asked.map((_, i) => costOfGap(asked, i));
  const moves: Move[] = [];
  for (let by = low - Math.max(...asked); by <= high - Math.min(...asked); by += 1) {
    let atLeast = 0;
    for (let i = 0; i < asked.length; i += 1) {
      const height = (asked[i] ?? 0) + by;
      const other =
        height < low
          ? costOfOther(height, low)
          : height > high
            ? costOfOther(height, high)
            : (cheapest[height - low] ?? 0);
      atLeast += Math.min(other, gaps[i] ?? 0);
    }
    moves.push({ by, atLeast });
  }
  return moves.sort((a, b) => a.atLeast - b.atLeast || a.by - b.by);
}
