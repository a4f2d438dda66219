/** How a block lies on a page: all that is asked where a page ends. */
export interface Extent {
  /** Points. */
  readonly height: number;
  /** Free above it, where it is not the first on its page. */
  readonly gap: number;
  /** It stays with the block after it: a heading with its first line. */
  readonly keeps: boolean;
  /** The page turns well after it: a section ends, or a hand rests. */
  readonly turns: boolean;
}

/** A good turn is taken where the page is filled so far already: within its last third. */
const LAST_THIRD = 2 / 3;

/**
 * How many blocks stand on each page. A page takes what fits; of the places in its last third where it turns well the last
 * is taken, where there is none the last that parts nothing that stays together. Blocks that stay together and do not
 * fit on one page are parted all the same; a block that is higher than a page has a page of its own.
 * @param room height of a page
 */
export function breakPages(blocks: readonly Extent[], room: number): number[] {
  const pages: number[] = [];
  for (let from = 0; from < blocks.length;) {
    const count = onPage(blocks, from, room);
    pages.push(count);
    from += count;
  }
  return pages;
}

function onPage(blocks: readonly Extent[], from: number, room: number): number {
  let used = 0;
  let [fits, whole, turn] = [0, 0, 0];
  for (let index = from; index < blocks.length; index++) {
    const { height, gap, keeps, turns } = blocks[index] as Extent;
    used += height + (index > from ? gap : 0);
    // Sums of fractions may differ in their last digit.
    if (used > room + 0.01 && index > from) break;
    const count = index - from + 1;
    fits = count;
    if (index === blocks.length - 1) return count;
    if (keeps) continue;
    whole = count;
    if (turns && used >= room * LAST_THIRD) turn = count;
  }
  return turn || whole || fits;
}
