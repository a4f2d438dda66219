/**
 * How a block stands after the one before: on a new page; apart from it; apart but kept with it, as a heading is kept
 * with what it heads; going on without a gap; or apart as the end of a sheet, with its credits. What is kept or goes on
 * stands together as long as a page has room.
 */
export type Begins = 'sheet' | 'block' | 'kept' | 'line' | 'end';

/** How much of its gaps a page gives up, and how much of its height in all, so that one more block stands on it (ours). */
const GAP_GIVEN = 0.6;
const HEIGHT_GIVEN = 0.08;

/** The least room between two blocks of a page that makes room for one more. */
export const leastGap = (gap: number): number => gap * (1 - GAP_GIVEN);

const isTied = (begins: Begins | undefined): boolean => begins === 'line' || begins === 'kept';

/** Height of a block and of all that is tied to it. */
function together(
  heights: readonly number[],
  begins: readonly Begins[],
  from: number,
  gap: number,
): number {
  let height = heights[from] ?? 0;
  for (let index = from + 1; isTied(begins[index]); index += 1) {
    height += (heights[index] ?? 0) + (begins[index] === 'kept' ? gap : 0);
  }
  return height;
}

/** What stands on the page that is being laid. */
interface Leaf {
  readonly start: number;
  /** CSS px, gaps among them. */
  readonly used: number;
  readonly gaps: number;
}

/** Whether a block finds room on a page, where its gaps give what they may. @param apart room before it: a gap, or none */
function hasRoom(
  { used, gaps }: Leaf,
  height: number,
  apart: number,
  room: number,
  gap: number,
): boolean {
  const all = gaps + (apart > 0 ? 1 : 0);
  const given = Math.min(all * gap * GAP_GIVEN, room * HEIGHT_GIVEN);
  return used + apart + height <= room + given;
}

/**
 * Where the last page of a sheet begins whose end finds no room with all that stands before it: with the last line of
 * music, or the last verse of words as a whole, so that no page has the credits alone. Of a verse that goes over a page
 * anyway, its last line. Where these do not find room either, or nothing would be left before them: with the end.
 */
function lastLeaf(
  heights: readonly number[],
  begins: readonly Begins[],
  end: number,
  start: number,
  room: number,
  gap: number,
): number {
  const height = together(heights, begins, end, gap);
  let group = end - 1;
  while (group > 0 && isTied(begins[group])) group -= 1;
  const last = group < start ? end - 1 : group;
  const whole = group < start ? (heights[last] ?? 0) : together(heights, begins, group, gap);
  return last > start && whole + gap + height <= room ? last : end;
}

/**
 * Lays blocks of given heights on pages: as many on each as find room, in order, where its gaps become a little smaller too. A block that is higher than a page
 * has one of its own. The end of a sheet, all that is tied to it included, does not stand alone where it can be helped:
 * the last line goes with it. One that is more than a page goes on overleaf.
 * @param heights in CSS px, top to bottom
 * @param room height of a page in CSS px
 * @param gap least room between two blocks
 * @param begins how each of them stands; missing: apart
 * @returns for each page the index of its first block
 */
export function leavesOf(
  heights: readonly number[],
  room: number,
  gap: number,
  begins: readonly Begins[] = [],
): number[] {
  const starts: number[] = [];
  let leaf: Leaf = { start: 0, used: Infinity, gaps: 0 };
  const begin = (start: number, used: number): void => {
    starts.push(start);
    leaf = { start, used, gaps: 0 };
  };
  /** Whether what is tied to an end was laid with it. */
  let isLaid = false;
  heights.forEach((height, index) => {
    const how = begins[index] ?? 'block';
    if (isLaid && isTied(how)) return;
    isLaid = false;
    const apart = how === 'line' ? 0 : gap;
    const whole = isTied(how) ? height : together(heights, begins, index, gap);
    if (how === 'end' && index > 0 && whole <= room) {
      isLaid = true;
      if (hasRoom(leaf, whole, gap, room, gap)) {
        leaf = { ...leaf, used: leaf.used + gap + whole, gaps: leaf.gaps + 1 };
      } else begin(lastLeaf(heights, begins, index, leaf.start, room, gap), Infinity);
      return;
    }
    const wanted = whole <= room ? whole : height;
    if (how === 'sheet' || !hasRoom(leaf, wanted, apart, room, gap)) begin(index, height);
    else {
      const { start, used, gaps } = leaf;
      leaf = { start, used: used + apart + height, gaps: gaps + (apart > 0 ? 1 : 0) };
    }
  });
  return starts;
}

/** The page that a block stands on. */
export function leafOf(starts: readonly number[], block: number): number {
  let leaf = 0;
  starts.forEach((start, index) => {
    if (start <= block) leaf = index;
  });
  return leaf;
}
