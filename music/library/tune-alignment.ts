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
 */
export function leastCost(
  asked: readonly number[],
  tune: readonly number[],
  elsewhere: number,
): Alignment {
  const width = tune.length + 1;
  let [cost, begin, nextCost, nextBegin] = rowsFor(width);
  for (let j = 0; j < width; j += 1) {
    cost[j] = j === 0 ? 0 : elsewhere;
    begin[j] = j;
  }
  for (let i = 1; i <= asked.length; i += 1) {
    const note = asked[i - 1] ?? 0;
    const tooMany = costOfGap(asked, i - 1);
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
    }
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
 * The keys to try, the most promising first. However the notes are laid, one that the tune has nowhere in this key costs
 * at least the price of a note that is another, or of a repeated one.
 */
export function movesTo(asked: readonly number[], tune: readonly number[]): Move[] {
  const there = new Set(tune);
  const lowest = Math.min(...tune) - Math.max(...asked);
  const highest = Math.max(...tune) - Math.min(...asked);
  const least = Math.min(COSTS.other, COSTS.repeated);
  const moves: Move[] = [];
  for (let move = lowest; move <= highest; move += 1) {
    let missing = 0;
    for (let i = 0; i < asked.length; i += 1) {
      const isRepeated = i > 0 && asked[i] === asked[i - 1];
      if (!there.has((asked[i] ?? 0) + move)) missing += isRepeated ? least : COSTS.other;
    }
    moves.push({ by: move, atLeast: missing });
  }
  return moves.sort((a, b) => a.atLeast - b.atLeast || a.by - b.by);
}
