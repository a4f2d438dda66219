import { betterFees, type Fees } from './fees.ts';
import type { OrderProblem, Placed, Solution, Solved } from './problem.ts';
import { MOST_SONGS, tablesOf, type Tables } from './relaxed.ts';

export type { Choice, OrderProblem, Placed, Solution, Solved } from './problem.ts';
export { costOf } from './problem.ts';
export { MOST_SONGS } from './relaxed.ts';

export interface SolveOptions {
  /** How many different solutions are wanted; missing: 1. */
  readonly best?: number;
  /** The search stops after so many steps and says what gap is left; missing: two million. */
  readonly steps?: number;
}

const STEPS = 2_000_000;

/**
 * The cheapest solutions, proved: depth first, the most promising way first, and no way is followed that cannot come below
 * what has been found (branch and bound). The bound is the exact optimum of the problem without caps on the leads, each
 * with a fee instead (`relax`). Of equal cost the one that is found first stays, and that order hangs on the problem
 * alone. Where the steps run out, the best so far comes with the gap that is left.
 * @throws RangeError for more songs than `MOST_SONGS`
 */
export function solve(problem: OrderProblem, options: SolveOptions = {}): Solved {
  const songs = problem.choices.length;
  if (songs > MOST_SONGS) throw new RangeError(`${songs} songs are more than ${MOST_SONGS}`);
  if (songs === 0) return { best: [{ placed: [], cost: 0 }], bound: 0, steps: 0 };
  if (isShortOfLeads(problem)) return { best: [], bound: Infinity, steps: 0 };
  const tables = tablesOf(problem);
  const fees = betterFees(problem, tables);
  return new Search(problem, tables, fees, options).run();
}

/** Whether more songs need a lead than all leads together may take. */
function isShortOfLeads({ choices, caps }: OrderProblem): boolean {
  const need = choices.filter((each) => each.every(({ lead }) => lead >= 0)).length;
  return need > caps.reduce((sum, cap) => sum + Math.max(0, cap), 0);
}

/** One step further from a state: a song at the next place, done in one of its ways. */
interface Step {
  readonly song: number;
  readonly choice: number;
  /** What has been spent with it, and no less in all when it is taken. */
  readonly spent: number;
  readonly atLeast: number;
}

class Search {
  readonly #problem: OrderProblem;
  readonly #tables: Tables;
  readonly #fees: Fees;
  readonly #wanted: number;
  readonly #most: number;
  readonly #left: number[];
  readonly #placed: Placed[] = [];
  readonly #found: Solution[] = [];
  /** For each state the least that was spent to come there, as often as solutions are wanted. */
  readonly #spent = new Map<number, number[]>();
  readonly #songs: number;
  /** Leads who may be asked for more songs than their cap. */
  readonly #scarce: readonly number[];
  #steps = 0;

  constructor(problem: OrderProblem, tables: Tables, fees: Fees, options: SolveOptions) {
    this.#problem = problem;
    this.#tables = tables;
    this.#fees = fees;
    this.#wanted = options.best ?? 1;
    this.#most = options.steps ?? STEPS;
    this.#left = [...problem.caps];
    this.#songs = problem.choices.length;
    this.#scarce = problem.caps.flatMap((cap, lead) =>
      problem.choices.filter((each) => each.some((choice) => choice.lead === lead)).length > cap
        ? [lead]
        : [],
    );
  }

  run(): Solved {
    const open = this.#from(0, -1, -1, 0);
    const dearest = this.#found[0]?.cost ?? Infinity;
    const bound = Math.min(dearest, Math.max(open, this.#fees.bound));
    return { best: this.#found, bound, steps: this.#steps };
  }

  /** No way that was left unexplored from here on costs less than what comes back; Infinity: none was. */
  #from(set: number, song: number, key: number, spent: number): number {
    const place = this.#placed.length;
    if (place === this.#songs) {
      this.#keep({ placed: [...this.#placed], cost: spent });
      return Infinity;
    }
    if (this.#isKnown(set, song, key, spent)) return Infinity;
    const steps = this.#stepsFrom(set, song, key, spent, place);
    let open = Infinity;
    for (const step of steps) {
      if (step.atLeast >= this.#limit()) break;
      if (this.#steps >= this.#most) {
        open = Math.min(open, step.atLeast);
        break;
      }
      this.#steps += 1;
      const choice = this.#problem.choices[step.song]?.[step.choice];
      if (!choice) continue;
      if (choice.lead >= 0) this.#left[choice.lead] = (this.#left[choice.lead] ?? 0) - 1;
      this.#placed.push({ song: step.song, choice: step.choice });
      const after = this.#from(set | (1 << step.song), step.song, choice.key, step.spent);
      open = Math.min(open, after);
      this.#placed.pop();
      if (choice.lead >= 0) this.#left[choice.lead] = (this.#left[choice.lead] ?? 0) + 1;
    }
    return open;
  }

  /** What a solution has to come below. */
  #limit(): number {
    return this.#found.length < this.#wanted ? Infinity : (this.#found.at(-1)?.cost ?? Infinity);
  }

  #keep(solution: Solution): void {
    this.#found.push(solution);
    this.#found.sort((a, b) => a.cost - b.cost);
    if (this.#found.length > this.#wanted) this.#found.pop();
  }

  /** Whether one came to this state as cheaply before, as often as solutions are wanted; else it is noted. */
  #isKnown(set: number, song: number, key: number, spent: number): boolean {
    const name = this.#nameOf(set, song, key);
    const before = this.#spent.get(name);
    if (!before) {
      this.#spent.set(name, [spent]);
      return false;
    }
    if (before.length >= this.#wanted && spent >= (before.at(-1) ?? 0)) return true;
    before.push(spent);
    before.sort((a, b) => a - b);
    if (before.length > this.#wanted) before.pop();
    return false;
  }

  /** Set, last song, its key and what each lead who may run out has left, as one number below 2^53. */
  #nameOf(set: number, song: number, key: number): number {
    let name = (set * this.#songs + song + 1) * (this.#problem.keys + 1) + key + 1;
    for (const lead of this.#scarce)
      name = name * ((this.#problem.caps[lead] ?? 0) + 1) + (this.#left[lead] ?? 0);
    return name;
  }

  #stepsFrom(set: number, last: number, key: number, spent: number, place: number): Step[] {
    const { problem, tables } = { problem: this.#problem, tables: this.#tables };
    const { fees, relaxed } = this.#fees;
    const refund = this.#left.reduce((sum, left, lead) => sum + left * (fees[lead] ?? 0), 0);
    const width = this.#songs * problem.keys;
    const steps: Step[] = [];
    const limit = this.#limit();
    problem.choices.forEach((choices, song) => {
      const standing = tables.atPlace[song * this.#songs + place] as number;
      if ((set & (1 << song)) !== 0 || standing === Infinity) return;
      choices.forEach((each, choice) => {
        const { lead } = each;
        if (lead >= 0 && (this.#left[lead] ?? 0) <= 0) return;
        const to = song * problem.keys + each.key;
        const join =
          last < 0 ? 0 : (tables.joins[place - 1]?.[to * width + last * problem.keys + key] ?? 0);
        const after = spent + each.cost + standing + join;
        const back = refund - (fees[lead] ?? 0);
        const atLeast = after + relaxed.rest(set | (1 << song), song, each.key) - back;
        if (atLeast < limit) steps.push({ song, choice, spent: after, atLeast });
      });
    });
    return steps.sort((a, b) => a.atLeast - b.atLeast || a.song - b.song || a.choice - b.choice);
  }
}
