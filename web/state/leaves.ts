/**
 * Lays blocks of given heights on pages: as many on each as find room, in order. A block that is higher than a page
 * has one of its own.
 * @param heights in CSS px, top to bottom
 * @param room height of a page in CSS px
 * @param gap least room between two blocks
 * @returns for each page the index of its first block
 */
export function leavesOf(heights: readonly number[], room: number, gap: number): number[] {
  const starts: number[] = [];
  let used = Infinity;
  heights.forEach((height, index) => {
    if (used + gap + height > room) {
      starts.push(index);
      used = height;
    } else used += gap + height;
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
