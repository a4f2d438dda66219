import type { Score, Span, Ticks } from './score.ts';
import { inForce } from './time.ts';

/** What lies in a span, cut to it and moved. */
export function cut<T extends { readonly at: Ticks; readonly length: Ticks }>(
  list: readonly T[],
  { from, to }: Span,
  moved: Ticks,
): T[] {
  return list
    .filter(({ at, length }) => at < to && at + length > from)
    .map((each) => {
      const at = Math.max(each.at, from);
      return { ...each, at: at + moved, length: Math.min(each.at + each.length, to) - at };
    });
}

/** What is in force at the start of a span and changes in it, moved. */
export function inForceOver<T extends { readonly at: Ticks }>(
  list: readonly T[],
  { from, to }: Span,
  moved: Ticks,
): T[] {
  const first = inForce(list, from);
  const later = list.filter(({ at }) => at > from && at < to);
  return [
    { ...first, at: from + moved },
    ...later.map((each) => ({ ...each, at: each.at + moved })),
  ];
}

/** Entries that change nothing are dropped. */
function withoutRepeats<T>(list: readonly T[], sign: (entry: T) => string): T[] {
  return list.filter((entry, index) => index === 0 || sign(entry) !== sign(list[index - 1] as T));
}

export const changingKeys = (keys: Score['keys']) =>
  withoutRepeats(keys, ({ key, signature }) => [key.tonic, key.mode, signature].join());

export const changingMeters = (meters: Score['meters']) =>
  withoutRepeats(meters, ({ meter }) => [meter.beats, meter.unit].join());
