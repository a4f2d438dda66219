import type { Block } from './block.ts';
import { breakPages, heightsOf } from './break-pages.ts';

/** One page: what stands on it from the top, and what stands at its foot. */
export interface Leaf {
  readonly blocks: readonly Block[];
  readonly below: Block | null;
}

function leaves(blocks: readonly Block[], room: number): Leaf[] {
  let from = 0;
  return breakPages(blocks, room).map((count) => {
    const own = blocks.slice(from, from + count);
    from += count;
    return { blocks: own, below: null };
  });
}

/**
 * The pages of a sheet. Where its end would have a page of its own and may stand elsewhere, it stands at the foot of the
 * first page that has room for it.
 * @param room height of a page
 */
export function leavesOf(blocks: readonly Block[], room: number): Leaf[] {
  const all = leaves(blocks, room);
  const end = blocks.at(-1);
  if (!end?.floats || all.at(-1)?.blocks.length !== 1) return all;
  const others = leaves(blocks.slice(0, -1), room);
  if (others.length === all.length) return all;
  const free = others.findIndex(
    ({ blocks: own }) => heightsOf(own).wanted + end.least + end.height <= room,
  );
  if (free < 0) return all;
  return others.map((leaf, index) => (index === free ? { ...leaf, below: end } : leaf));
}

/** What a sheet that is set smaller takes at least, against the usual: text loses height and lines, 0.925 of each. */
const SMALLEST = 0.85;

/**
 * The pages of a sheet in the first of several ways to set it that takes the fewest.
 * @param ways blocks of the sheet, set smaller and smaller
 */
export function fewestLeaves(ways: Iterable<readonly Block[]>, room: number): readonly Leaf[] {
  let best: readonly Leaf[] | null = null;
  for (const blocks of ways) {
    const tried = leavesOf(blocks, room);
    if (!best || tried.length < best.length) best = tried;
    if (heightsOf(blocks).least * SMALLEST > (best.length - 1) * room) break;
  }
  return best ?? [];
}
