import { QUARTER, type Bar, type MeterAt, type TempoAt } from '../score/score.ts';
import { quartersPerMinute } from '../score/tempos.ts';
import { barLength, inForce } from '../score/time.ts';

/** Up to this many changes, or one in so many bars, are taken for written ones (our own figures: what a page could print). */
const [ALWAYS_KEPT, BARS_PER_CHANGE] = [8, 4];
/** Of more, those that last so many bars and are so much faster or slower than what was kept before. */
const [BARS_HELD, LEAST_RATIO] = [2, 1.05];

/**
 * The changes of tempo that a page would print, of all that a file steps through: a file of a performance may change its
 * tempo at every beat. Few are all kept; of more than one in four bars (or eight), only those that hold for two bars and
 * differ by a twentieth from what was kept before.
 * @param steps in order, the first at the start; one that `isPrinted` is kept in any case
 */
export function writtenTempos<T extends TempoAt>(
  steps: readonly T[],
  { bars, meters }: { readonly bars: readonly Bar[]; readonly meters: readonly MeterAt[] },
  isPrinted: (step: T) => boolean = () => false,
): T[] {
  const most = Math.max(ALWAYS_KEPT, Math.floor(bars.length / BARS_PER_CHANGE));
  if (steps.filter((step) => !isPrinted(step)).length - 1 <= most) return [...steps];
  const last = bars.at(-1);
  const end = last ? last.at + last.length : 0;
  const kept: T[] = [];
  for (const [i, step] of steps.entries()) {
    const before = kept.at(-1);
    const lasts = (steps[i + 1]?.at ?? end) - step.at;
    const full = barLength(inForce(meters, step.at).meter) ?? 4 * QUARTER;
    const ratio = before ? quartersPerMinute(step.tempo) / quartersPerMinute(before.tempo) : 1;
    const isNew = lasts >= BARS_HELD * full && Math.max(ratio, 1 / ratio) >= LEAST_RATIO;
    if (!before || isNew || isPrinted(step)) kept.push(step);
  }
  return kept;
}

/** What is told where some are left out. */
export function sayThinned(all: number, kept: number): string {
  const left =
    kept < 2
      ? 'only the first is kept'
      : `only the ${kept - 1} that hold for ${BARS_HELD} bars or more are kept`;
  return `The tempo changes ${all - 1} times, as it does where somebody played; ${left}.`;
}
