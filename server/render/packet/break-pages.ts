/** How a block lies on a page: all that is asked where a page ends. */
export interface Extent {
  /** Points. */
  readonly height: number;
  /** Free above it, where it is not the first on its page. */
  readonly gap: number;
  /** What the gap can be tightened to. */
  readonly least: number;
  /** It stays with the block after it: a heading with its first line. */
  readonly keeps: boolean;
  /** The page turns well after it: a section ends, or a hand rests. */
  readonly turns: boolean;
  /** It is a line of music. */
  readonly isMusic: boolean;
}

/** What speaks against a page, in pages: how many more would you rather have? Ours; set on the packets of the demo. */
export const COST = {
  page: 1,
  /** Emptiness, squared, of a page that is not the last: half of one costs more than a line of music alone. */
  empty: 2.2,
  /** It is turned in the middle of something: as much as 0.3 of a page left empty. */
  turn: 0.2,
  /** Its gaps are as tight as they can be. */
  tight: 0.1,
  /** One line of music alone, in a sheet that has more. */
  alone: 0.5,
  /** No music, in a sheet that has some: the end of it has a page of its own. */
  noMusic: 0.6,
  /** It ends between blocks that stay together. */
  parted: 10,
} as const;

/** Heights of blocks on one page, with the gaps as they are wanted and as tight as they can be. */
export function heightsOf(blocks: readonly Extent[]): { wanted: number; least: number } {
  let [wanted, least] = [0, 0];
  blocks.forEach((each, index) => {
    wanted += each.height + (index > 0 ? each.gap : 0);
    least += each.height + (index > 0 ? each.least : 0);
  });
  return { wanted, least };
}

/** Sums of fractions may differ in their last digits. */
const EXACT = 0.01;

/**
 * What a page of these blocks costs; Infinity where they, more than one, do not fit.
 * @param lines how many lines of music the whole sheet has
 */
export function pageCost(blocks: readonly Extent[], room: number, lines: number, isLast: boolean): number {
  const { wanted, least } = heightsOf(blocks);
  if (least > room + EXACT && blocks.length > 1) return Infinity;
  const music = blocks.filter(({ isMusic }) => isMusic).length;
  const over = Math.max(0, wanted - room);
  const tight = over > EXACT && wanted > least ? Math.min(1, over / (wanted - least)) : 0;
  const own =
    COST.page +
    COST.tight * tight +
    (lines > 1 && music === 1 ? COST.alone : 0) +
    (lines > 0 && music === 0 ? COST.noMusic : 0);
  if (isLast) return own;
  const last = blocks.at(-1);
  const empty = Math.max(0, 1 - wanted / room);
  return (
    own +
    COST.empty * empty * empty +
    (last?.turns ? 0 : COST.turn) +
    (last?.keeps ? COST.parted : 0)
  );
} // prettier-ignore

/**
 * How many blocks stand on each page, so that the sum of the pages' costs is least; of equal ways the one with more on its
 * first pages. Exact, by dynamic programming over the places where a page can end. A block that is higher than a page has
 * a page of its own.
 * @param room height of a page
 */
export function breakPages(blocks: readonly Extent[], room: number): number[] {
  const count = blocks.length;
  const lines = blocks.filter(({ isMusic }) => isMusic).length;
  const best = Array.from({ length: count + 1 }, () => ({ cost: Infinity, next: count }));
  best[count] = { cost: 0, next: count };
  for (let from = count - 1; from >= 0; from--) {
    for (let next = from + 1; next <= count; next++) {
      const page = pageCost(blocks.slice(from, next), room, lines, next === count);
      if (page === Infinity) break;
      const cost = page + (best[next]?.cost ?? Infinity);
      if (cost <= (best[from]?.cost ?? Infinity) + 1e-9) best[from] = { cost, next };
    }
  }
  const pages: number[] = [];
  for (let from = 0; from < count;) {
    const next = best[from]?.next ?? count;
    pages.push(next - from);
    from = next;
  }
  return pages;
}

/**
 * Where the blocks of one page begin, from its top: with the gaps they want; tightened where they would not fit, wider where
 * room is left and the page is to be filled, each as much as it can be tightened.
 * @param most how many times as much wider a gap may get; 0: what is left stays at the foot
 */
export function placesOn(blocks: readonly Extent[], room: number, most: number): number[] {
  const { wanted, least } = heightsOf(blocks);
  const gives = wanted - least;
  const share = gives > 0 ? Math.max(-1, Math.min(most, (room - wanted) / gives)) : 0;
  let y = 0;
  return blocks.map((each, index) => {
    const top = y + (index > 0 ? each.gap + share * (each.gap - each.least) : 0);
    y = top + each.height;
    return top;
  });
}
