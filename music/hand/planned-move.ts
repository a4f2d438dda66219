import { fingersChanged, fingersKept, stepsOf, type MoveStep } from './move.ts';
import { saySteps } from './move-words.ts';
import { between } from './motion.ts';
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

/** A move, plain data to whoever reads it; steps and words are worked out when they are first asked for. */
export function moveBetween(from: Shape, to: Shape): PlannedMove {
  let known: readonly MoveStep[] | undefined;
  let said: string | undefined;
  const steps = () => (known ??= stepsOf(from, to));
  return {
    from,
    to,
    motion: between(from.notes, to.notes).total,
    get fingersKept() {
      return fingersKept(steps());
    },
    get fingersChanged() {
      return fingersChanged(steps());
    },
    get steps() {
      return steps();
    },
    get words() {
      return (said ??= saySteps(steps()));
    },
  };
}
