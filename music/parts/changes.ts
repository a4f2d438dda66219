import { moveBetween, type PlannedMove } from '../hand/planned-move.ts';
import { unfold } from '../score/form.ts';
import type { Score, Ticks } from '../score/score.ts';
import type { HandsPlan, HeldChord } from './hands-plan.ts';

/** A change of chord that the hands play. */
export interface Change {
  readonly before: HeldChord;
  readonly after: HeldChord;
  readonly move: PlannedMove;
  /** The least time that the chord before is held before it. */
  readonly time: Ticks;
}

/**
 * The changes of a song as it is played, each pair of neighbours once, in the order they first come: repeats go back to
 * their beginning, an ending follows what is played before it, the next verse follows the last. What merely stands side
 * by side on paper is no change.
 * @param score with its introduction; `plan` for it
 */
export function changesOf(score: Score, plan: Pick<HandsPlan, 'held'>): Change[] {
  const { held } = plan;
  const changes = new Map<number, Change>();
  // The chord that sounds, and since when.
  let index = -1;
  let since: Ticks = 0;
  for (const { from, to, playedAt } of unfold(score)) {
    held.forEach((chord, next) => {
      if (chord.to <= from || chord.from >= to || next === index) return;
      const at = playedAt + Math.max(chord.from, from) - from;
      const before = held[index];
      if (before) {
        const key = index * held.length + next;
        const known = changes.get(key);
        const time = Math.min(at - since, known?.time ?? Infinity);
        const move = known?.move ?? moveBetween(before.right, chord.right);
        changes.set(key, { before, after: chord, move, time });
      }
      index = next;
      since = at;
    });
  }
  return [...changes.values()];
}
