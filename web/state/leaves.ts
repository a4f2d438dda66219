/**
 * How a block stands after the one before: on a new page; apart from it; apart but kept with it, as a heading is kept
 * with what it heads; or going on without a gap. What is kept or goes on stands together as long as a page has room.
 */
export type Begins = 'sheet' | 'block' | 'kept' | 'line';

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

/**
 * Lays blocks of given heights on pages: as many on each as find room, in order. A block that is higher than a page
 * has one of its own.
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
  let used = Infinity;
  heights.forEach((height, index) => {
    const how = begins[index] ?? 'block';
    const apart = how === 'line' ? 0 : gap;
    const whole = isTied(how) ? height : together(heights, begins, index, gap);
    const wanted = whole <= room ? whole : height;
    if (how === 'sheet' || used + apart + wanted > room) {
      starts.push(index);
      used = height;
    } else used += apart + height;
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
