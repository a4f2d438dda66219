import type { OrderProblem } from './problem.ts';
import { relax, type Relaxed, type Tables } from './relaxed.ts';

/** Rounds in which the fees are bettered, each one run of the dynamic programme: as many as so much work allows, within limits. */
const WORK = 5e8;
const [FEWEST, MOST] = [8, 40] as const;
/** After so many rounds without a better bound steps are half as long. */
const PATIENCE = 4;
/** The optimum is taken to lie this share above the best bound so far, as it is not known. */
const ABOVE = 0.06;

/** Fees of the leads, and the problem relaxed with them. */
export interface Fees {
  readonly fees: readonly number[];
  readonly relaxed: Relaxed;
  /** No solution costs less. */
  readonly bound: number;
}

/**
 * Fees that make the bound high: whoever is asked for more than the cap gets dearer, whoever is asked for less gets
 * cheaper again (Held and Karp 1971), by steps as long as what is missing to the optimum asks for (Polyak 1969). They are
 * whole numbers. They only steer how fast the search is; what it finds does not hang on them.
 */
export function betterFees(problem: OrderProblem, tables: Tables): Fees {
  const { caps } = problem;
  const least = meanChoice(problem) / 8;
  let at = priced(
    problem,
    tables,
    caps.map(() => 0),
  );
  let best = at;
  let [share, waited] = [1, 0];
  for (let round = roundsFor(tables); round > 0 && at.relaxed.least < Infinity; round--) {
    const { fees, relaxed } = at;
    const over = relaxed.taken.map((count, lead) => {
      const by = count - (caps[lead] ?? 0);
      return by < 0 && fees[lead] === 0 ? 0 : by;
    });
    const square = over.reduce((sum, by) => sum + by * by, 0);
    if (square === 0) return at.bound > best.bound ? at : best;
    const missing = best.bound + Math.max(ABOVE * best.bound, least) - at.bound;
    const step = (share * missing) / square;
    at = priced(
      problem,
      tables,
      fees.map((fee, lead) => Math.max(0, Math.round(fee + step * (over[lead] ?? 0)))),
    );
    if (at.bound > best.bound) [best, waited] = [at, 0];
    else if (++waited >= PATIENCE) [share, waited] = [share / 2, 0];
  }
  return best;
}

function roundsFor({ songs, keys }: Tables): number {
  const once = (2 ** songs * (songs * keys) ** 2) / 4;
  return Math.min(MOST, Math.max(FEWEST, Math.floor(WORK / once)));
}

function priced(problem: OrderProblem, tables: Tables, fees: readonly number[]): Fees {
  const relaxed = relax(problem, tables, fees);
  const paid = problem.caps.reduce((sum, cap, lead) => sum + cap * (fees[lead] ?? 0), 0);
  return { fees, relaxed, bound: relaxed.least - paid };
}

function meanChoice({ choices }: OrderProblem): number {
  const all = choices.flatMap((each) => each.map(({ cost }) => cost));
  return all.reduce((sum, cost) => sum + cost, 0) / Math.max(1, all.length);
}
