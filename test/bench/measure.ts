/** One line of the table: a duration against another's, in one run. */
export interface Row {
  readonly name: string;
  readonly ratio: number;
  /** Above this the run fails; null: for information. */
  readonly limit: number | null;
  readonly detail: string;
}

/**
 * What is measured: it does the work once and gives something back, so that the work cannot be left
 * out.
 */
export type Work = () => unknown;

export interface Comparison {
  /** Median milliseconds of one call. */
  readonly milliseconds: readonly number[];
  /** Median over all rounds of (each work's time / the first work's time in the same round). */
  readonly ratios: readonly number[];
}

/**
 * Times works against each other: rounds of blocks, one block of each work in turn and in changing
 * order, so that whatever else the machine does falls on all alike; blocks are short, so that most
 * run without being interrupted. The first work is the yardstick; give it twice and its second
 * ratio is the A/A control, which tells how far off a ratio may be by chance.
 */
export function compare(works: readonly Work[], rounds = 301, blockMilliseconds = 0.5): Comparison {
  const calls = works.map((work) => callsIn(work, blockMilliseconds));
  const times: number[][] = works.map(() => []);
  for (let round = 0; round < rounds; round++)
    for (let i = 0; i < works.length; i++) {
      const which = round % 2 === 0 ? i : works.length - 1 - i;
      times[which]?.push(block(works[which] as Work, calls[which] ?? 1));
    }
  const first = times[0] ?? [];
  return {
    milliseconds: times.map(median),
    ratios: times.map((list) => median(list.map((time, round) => time / (first[round] ?? NaN)))),
  };
}

let kept: unknown;

/** Milliseconds of one call, from a block of them. */
function block(work: Work, calls: number): number {
  const start = process.hrtime.bigint();
  for (let call = 0; call < calls; call++) kept = work();
  const end = process.hrtime.bigint();
  if (kept === block) throw new Error('unreachable; it keeps the work from being left out');
  return Number(end - start) / 1e6 / calls;
}

/** Calls that fill a block, found while the engine warms up. */
function callsIn(work: Work, milliseconds: number): number {
  let calls = 1;
  for (let turn = 0; turn < 30; turn++) {
    const each = block(work, calls);
    calls = Math.max(1, Math.min(100_000, Math.round(milliseconds / Math.max(each, 1e-6))));
  }
  return calls;
}

/** The middle one; between the two middle ones where their number is even. */
export function median(numbers: readonly number[]): number {
  const sorted = [...numbers].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? NaN;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? NaN)) / 2;
}
