/** A number of first rank, and one that decides only where the first is equal. Whole numbers. */
export interface Ranked {
  readonly first: number;
  readonly then: number;
}

/**
 * What choices of some unknowns cost together: the entry of choices a, b, c … of `scope` stands at
 * ((a · size of b) + b) · size of c + c …
 */
export interface Factor {
  /** Numbers of the unknowns, ascending. */
  readonly scope: readonly number[];
  readonly first: Float64Array;
  readonly then: Float64Array;
}

export interface Assignment {
  /** One choice per unknown. */
  readonly choices: readonly number[];
  readonly cost: Ranked;
}

/**
 * The most table entries that one elimination fills. Songs stay far below: every hymn of the Open
 * Hymnal at hand, every chord of it, needs fewer than a hundredth.
 */
export const MOST_ENTRIES = 4_000_000;

/**
 * The choice for every unknown by which the factors sum to the least: exact, by eliminating one
 * unknown after another (Bertelè & Brioschi 1972, "Nonserial Dynamic Programming"; Dechter 1999,
 * "Bucket elimination", Artificial Intelligence 113). Of equally cheap assignments the one with the
 * lower choice at the first unknown where they differ. Null where the tables would need more than
 * `most` entries.
 */
export function leastAssignment(
  sizes: readonly number[],
  factors: readonly Factor[],
  most = MOST_ENTRIES,
): Assignment | null {
  const order = orderOf(sizes, factors, most);
  if (!order) return null;
  const best = eliminate(sizes, factors, order);
  return best.tied ? lowest(sizes, factors, order, best) : best;
}

/**
 * Where several are best: unknown by unknown the lowest choice with which the least cost can still
 * be had.
 */
function lowest(
  sizes: readonly number[],
  factors: readonly Factor[],
  order: readonly number[],
  best: Assignment,
): Assignment {
  let found = best;
  const held = [...factors];
  for (let unknown = 0; unknown < sizes.length; unknown++) {
    for (let choice = 0; choice < (found.choices[unknown] as number); choice++) {
      const tried = eliminate(sizes, [...held, only(unknown, choice, sizes)], order);
      if (compare(tried.cost, best.cost) !== 0) continue;
      found = tried;
      break;
    }
    held.push(only(unknown, found.choices[unknown] as number, sizes));
  }
  return found;
}

function only(unknown: number, choice: number, sizes: readonly number[]): Factor {
  const first = new Float64Array(sizes[unknown] as number).fill(Infinity);
  first[choice] = 0;
  return { scope: [unknown], first, then: new Float64Array(first.length) };
}

export function compare(one: Ranked, other: Ranked): number {
  if (one.first !== other.first) return one.first < other.first ? -1 : 1;
  return one.then === other.then ? 0 : one.then < other.then ? -1 : 1;
}

/** Always next the unknown whose table is smallest; null where all tables exceed `most`. */
function orderOf(
  sizes: readonly number[],
  factors: readonly Factor[],
  most: number,
): number[] | null {
  const near = sizes.map(() => new Set<number>());
  for (const { scope } of factors)
    for (const one of scope) for (const other of scope) if (one !== other) near[one]?.add(other);
  const left = new Set(sizes.keys());
  const order: number[] = [];
  let entries = 0;
  while (left.size > 0) {
    let next = -1;
    let least = Infinity;
    for (const unknown of left) {
      let table = sizes[unknown] as number;
      for (const other of near[unknown] ?? []) table *= sizes[other] as number;
      if (table < least) [next, least] = [unknown, table];
    }
    entries += least;
    if (next < 0 || entries > most) return null;
    const around = [...(near[next] ?? [])];
    for (const one of around) {
      near[one]?.delete(next);
      for (const other of around) if (one !== other) near[one]?.add(other);
    }
    left.delete(next);
    order.push(next);
  }
  return order;
}

/** What an unknown chose for every choice of those that it was eliminated before. */
interface Bucket {
  readonly unknown: number;
  readonly scope: readonly number[];
  readonly choice: Uint16Array;
  /** Whether another choice was as good. */
  readonly tied: Uint8Array;
}

function eliminate(
  sizes: readonly number[],
  factors: readonly Factor[],
  order: readonly number[],
): Assignment & { readonly tied: boolean } {
  let open = [...factors];
  const buckets: Bucket[] = [];
  let [first, then] = [0, 0];
  for (const unknown of order) {
    const own = open.filter(({ scope }) => scope.includes(unknown));
    open = open.filter(({ scope }) => !scope.includes(unknown));
    const { rest, bucket } = eliminated(unknown, own, sizes);
    buckets.push(bucket);
    if (rest.scope.length > 0) open.push(rest);
    else {
      first += rest.first[0] as number;
      then += rest.then[0] as number;
    }
  }
  const choices = new Array<number>(sizes.length).fill(0);
  let tied = false;
  for (const { unknown, scope, choice, tied: ties } of buckets.reverse()) {
    const at = scope.reduce((sum, one) => sum * (sizes[one] ?? 1) + (choices[one] ?? 0), 0);
    choices[unknown] = choice[at] as number;
    tied ||= ties[at] === 1;
  }
  return { choices, cost: { first, then }, tied };
}

/** The least of an unknown's factors for every choice of the others in them. */
function eliminated(
  unknown: number,
  own: readonly Factor[],
  sizes: readonly number[],
): { rest: Factor; bucket: Bucket } {
  const scope = [...new Set(own.flatMap((factor) => factor.scope))]
    .filter((one) => one !== unknown)
    .sort((a, b) => a - b);
  const width = scope.reduce((product, one) => product * (sizes[one] as number), 1);
  const rest = { scope, first: new Float64Array(width), then: new Float64Array(width) };
  const bucket = {
    unknown,
    scope,
    choice: new Uint16Array(width),
    tied: new Uint8Array(width),
  };
  const steps = own.map((factor) => stepsIn(factor, scope, sizes));
  const stride = own.map((factor) => stepsIn(factor, [unknown], sizes)[0] as number);
  const at = new Array<number>(own.length).fill(0);
  const digits = new Array<number>(scope.length).fill(0);
  for (let entry = 0; entry < width; entry++) {
    let [first, then, best, tied] = [Infinity, Infinity, 0, 0];
    for (let choice = 0; choice < (sizes[unknown] as number); choice++) {
      let [cost, behind] = [0, 0];
      for (let f = 0; f < own.length; f++) {
        const place = (at[f] as number) + choice * (stride[f] as number);
        cost += (own[f] as Factor).first[place] as number;
        behind += (own[f] as Factor).then[place] as number;
      }
      if (cost === first && behind === then) tied = 1;
      if (cost < first || (cost === first && behind < then))
        [first, then, best, tied] = [cost, behind, choice, 0];
    }
    rest.first[entry] = first;
    rest.then[entry] = then;
    bucket.choice[entry] = best;
    bucket.tied[entry] = tied;
    countOn(digits, scope, sizes, at, steps);
  }
  return { rest, bucket };
}

/** How far a factor's entries stand apart for each unknown of a scope; 0 where it has it not. */
function stepsIn(
  factor: Factor,
  scope: readonly number[],
  sizes: readonly number[],
): readonly number[] {
  return scope.map((one) => {
    const place = factor.scope.indexOf(one);
    if (place < 0) return 0;
    return factor.scope
      .slice(place + 1)
      .reduce((product, later) => product * (sizes[later] as number), 1);
  });
}

/** To the next choices of a scope, the last unknown fastest, and every factor's entry with it. */
function countOn(
  digits: number[],
  scope: readonly number[],
  sizes: readonly number[],
  at: number[],
  steps: readonly (readonly number[])[],
): void {
  for (let place = scope.length - 1; place >= 0; place--) {
    const size = sizes[scope[place] as number] as number;
    const turn = (digits[place] as number) + 1 === size;
    digits[place] = turn ? 0 : (digits[place] as number) + 1;
    const change = turn ? 1 - size : 1;
    for (let f = 0; f < at.length; f++)
      at[f] = (at[f] as number) + change * ((steps[f] as readonly number[])[place] as number);
    if (!turn) return;
  }
}
