import type { PartShape } from '../parts/part.ts';
import type { Span } from '../score/score.ts';

/** Two rows of four: as many pictures as a player takes in before beginning (ours). */
export const MOST_TOGETHER = 8;
/** Under the heading and a full strip a tablet's first page holds two systems (ours). */
export const FIRST_PAGE = 2;

/**
 * Which shapes are pictured above which system, each once, in the order they first appear. A part of at most eight shapes
 * has them all above the first system: the whole song can be learned there. With more, those of the first page stand
 * there and each other above the system in which it first appears.
 * @param systems the stretch of time that each system covers, in order
 */
export function stripsOf(shapes: readonly PartShape[], systems: readonly Span[]): PartShape[][] {
  const together = shapes.length <= MOST_TOGETHER ? systems.length : FIRST_PAGE;
  return systems.map((_, index) => {
    if (index > 0 && index < together) return [];
    const here =
      index === 0 ? systems.slice(0, Math.max(1, together)) : systems.slice(index, index + 1);
    return shapes.filter(({ at }) => here.some(({ from, to }) => at >= from && at < to));
  });
}
