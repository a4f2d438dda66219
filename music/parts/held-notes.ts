import { isSameShape } from '../hand/move-words.ts';
import type { Shape } from '../hand/shape.ts';
import type { Bar, Note, Span } from '../score/score.ts';

/** What a hand holds, from where to where. */
export interface HeldShape extends Span {
  readonly shape: Shape;
}

/**
 * A hand's notes: each chord is struck where it begins and again at every bar line (common practice: one chord a bar,
 * held, is a complete first part), and rests fill what is left, bar by bar. Fingers stand where the hand changes and where
 * it comes in after a rest.
 */
export function heldNotes(bars: readonly Bar[], held: readonly HeldShape[]): Note[] {
  const notes: Note[] = [];
  let last: Shape | null = null;
  for (const bar of bars) {
    const end = bar.at + bar.length;
    let at = bar.at;
    const rest = (to: number) => {
      if (to > at) {
        notes.push({ at, length: to - at, pitches: [] });
        last = null;
      }
      at = Math.max(at, to);
    };
    for (const { from, to, shape } of held) {
      if (to <= bar.at || from >= end || shape.notes.length === 0) continue;
      rest(Math.max(from, bar.at));
      const until = Math.min(to, end);
      const again = last !== null && isSameShape(last, shape);
      notes.push({
        at,
        length: until - at,
        pitches: shape.notes,
        ...(again ? {} : { fingers: shape.fingers }),
      });
      last = shape;
      at = until;
    }
    rest(end);
  }
  return notes;
}
