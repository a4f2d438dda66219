import { moveBetween, type PlannedMove } from '../hand/planned-move.ts';
import { unfold } from '../score/form.ts';
import type { Score, Span, Ticks } from '../score/score.ts';
import type { HandsPlan, HeldChord } from './hands-plan.ts';

/** A change of chord that the hands play. */
export interface Change extends Neighbours<HeldChord> {
  readonly move: PlannedMove;
}

/** Two neighbours in time, and the least time that the first is held before the second. */
export interface Neighbours<T> {
  readonly before: T;
  readonly after: T;
  readonly time: Ticks;
}

/**
 * What follows what in a song as it is played, each pair of neighbours once, in the order they first come: repeats go
 * back to their beginning, an ending follows what is played before it, the next verse follows the last. What merely
 * stands side by side on paper is no change.
 * @param score with its introduction; `held` in its order
 */
export function neighboursOf<T extends Span>(score: Score, held: readonly T[]): Neighbours<T>[] {
  const pairs = new Map<number, Neighbours<T>>();
  // What sounds, and since when.
  let index = -1;
  let since: Ticks = 0;
  for (const { from, to, playedAt } of unfold(score)) {
    held.forEach((each, next) => {
      if (each.to <= from || each.from >= to || next === index) return;
      const at = playedAt + Math.max(each.from, from) - from;
      const before = held[index];
      if (before) {
        const key = index * held.length + next;
        const time = Math.min(at - since, pairs.get(key)?.time ?? Infinity);
        pairs.set(key, { before, after: each, time });
      }
      index = next;
      since = at;
    });
  }
  return [...pairs.values()];
}

/** The changes of chord that the hands play, each pair of neighbours once. */
export function changesOf(score: Score, plan: Pick<HandsPlan, 'held'>): Change[] {
  return neighboursOf(score, plan.held).map((pair) => ({
    ...pair,
    move: moveBetween(pair.before.right, pair.after.right),
  }));
}
