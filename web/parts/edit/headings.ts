import type { Score } from '#music';
import { across, anchorsOf, measureAt, SIDE } from './places.ts';

/** Room between two names of sections over one line, CSS px. */
const NAME_GAP = 16;

/**
 * How far right the names of the sections stand that begin inside a line: over their first note, CSS px from the left
 * of the music, by the id of the section. One that begins with its line has none: it stands at the left edge.
 * @param root holds the drawn lines
 */
function headingsAt(root: Element, score: Score): ReadonlyMap<string, number> {
  const origin = root.getBoundingClientRect().left;
  const found = new Map<string, number>();
  for (const { id, from } of score.sections) {
    const index = score.bars.findIndex(({ at, length }) => from < at + length);
    const measure = measureAt(root, index);
    const bar = score.bars[index];
    if (!measure || !bar) continue;
    const first = measure.closest('.system')?.querySelector('.measure[data-bar]');
    if (first === measure && from === bar.at) continue;
    found.set(id, across(anchorsOf(measure, score), from) - SIDE - origin);
  }
  return found;
}

/** Names beside each other: none lies over the one before, none goes beyond the edge while there is room. */
export function spread(
  names: readonly { readonly at: number; readonly width: number }[],
  edge: number,
): number[] {
  let free = 0;
  return names.map(({ at, width }) => {
    const left = Math.max(free, Math.min(at, edge - width));
    free = left + width + NAME_GAP;
    return left;
  });
}

/** Puts the names of sections over their first notes. @param root holds the drawn lines and the names over them */
export function setHeadings(root: HTMLElement, score: Score): void {
  const at = headingsAt(root, score);
  for (const row of root.querySelectorAll<HTMLElement>('.margin')) {
    const names = [...row.querySelectorAll<HTMLElement>('.name')];
    const asked = names.map((name) => ({
      at: at.get(name.dataset['section'] ?? '') ?? 0,
      width: name.offsetWidth,
    }));
    const lefts = spread(asked, row.clientWidth);
    lefts.forEach((left, i) => names[i]?.style.setProperty('left', `${left}px`));
  }
}
