/**
 * How a block stands after the one before: on a page of its own, apart from it, or going on without a gap, kept with
 * it as long as all that goes on together finds room on a page.
 */
export type Begins = 'sheet' | 'block' | 'line';

/** Height of a block and of all that goes on with it. */
function together(heights: readonly number[], begins: readonly Begins[], from: number): number {
  let height = heights[from] ?? 0;
  for (let index = from + 1; begins[index] === 'line'; index += 1) height += heights[index] ?? 0;
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
    const whole = how === 'line' ? height : together(heights, begins, index);
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
