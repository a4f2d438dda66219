import { between } from './motion.ts';
import { fingersChanged, fingersKept, stepsOf, type MoveStep } from './move.ts';
import { saySteps } from './move-words.ts';
import type { Shape } from './shape.ts';

export interface PlannedMove {
  readonly from: Shape;
  readonly to: Shape;
  /** Semitones. */
  readonly motion: number;
  /** Fingers that hold on to their key, in thumb order. */
  readonly fingersKept: readonly number[];
  /** Fingers that come in, take over a key from another finger, or only lift. */
  readonly fingersChanged: readonly number[];
  /** What each finger does. */
  readonly steps: readonly MoveStep[];
  /** The steps as a teacher says them. */
  readonly words: string;
}

const known = new Map<Shape, Map<Shape, PlannedMove>>();
/** Shapes that moves are remembered from; then it starts anew. */
const MOST_KNOWN = 1000;

/**
 * The move from a shape to a shape; the same object where both are the same objects as before (see
 * `memory.ts`, which this does without, as it is asked for every chord of every plan).
 */
export function moveBetween(from: Shape, to: Shape): PlannedMove {
  let row = known.get(from);
  if (!row) {
    if (known.size >= MOST_KNOWN) known.clear();
    known.set(from, (row = new Map()));
  }
  let move = row.get(to);
  if (!move) row.set(to, (move = workOut(from, to)));
  return move;
}

function workOut(from: Shape, to: Shape): PlannedMove {
  const steps = stepsOf(from, to);
  return {
    from,
    to,
    motion: between(from.notes, to.notes).total,
    fingersKept: fingersKept(steps),
    fingersChanged: fingersChanged(steps),
    steps,
    words: saySteps(steps),
  };
}
