import type { OrderProblem } from './problem.ts';
import { relax, type Relaxed, type Tables } from './relaxed.ts';

/** Rounds in which the fees are bettered; each is one run of the dynamic programme. */
const ROUNDS = 24;
/** A step that does not help is taken back, and the next one is this much of it. */
const SHRINK = 0.6;

/** Fees of the leads, and the problem relaxed with them. */
export interface Fees {
  readonly fees: readonly number[];
  readonly relaxed: Relaxed;
  /** No solution costs less. */
  readonly bound: number;
}

/**
 * Fees that make the bound high: whoever is asked for more than the cap gets dearer, whoever is asked for less gets
 * cheaper again (subgradient steps; Held and Karp 1971), with steps that get smaller. They are whole numbers. They only steer
 * how fast the search is; what it finds does not hang on them.
 */
export function betterFees(problem: OrderProblem, tables: Tables): Fees {
  const { caps } = problem;
  let best = priced(
    problem,
    tables,
    caps.map(() => 0),
  );
  let step = Math.max(1, Math.ceil(meanChoice(problem) / 4));
  for (let round = 0; round < ROUNDS && best.relaxed.least < Infinity; round++) {
    const { fees, relaxed } = best;
    const over = relaxed.taken.map((count, lead) => count - (caps[lead] ?? 0));
    if (over.every((by, lead) => by <= 0 && (by === 0 || fees[lead] === 0))) return best;
    const next = priced(
      problem,
      tables,
      fees.map((fee, lead) => Math.max(0, fee + step * (over[lead] ?? 0))),
    );
    if (next.bound > best.bound) best = next;
    else step = Math.ceil(step * SHRINK);
  }
  return best;
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
