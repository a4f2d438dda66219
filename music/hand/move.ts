import { midiOf, type PitchName } from '../pitch/pitch.ts';
import type { Shape } from './shape.ts';

/**
 * What one finger does when a hand goes from shape to shape. Every finger of the new shape has
 * exactly one step that is not `lift`; every finger that only the old shape has lifts or gives its
 * place (`instead`, `from`).
 */
export type MoveStep =
  | { readonly kind: 'stay'; readonly finger: number; readonly note: PitchName }
  /** The same finger on another key. */
  | {
      readonly kind: 'go';
      readonly finger: number;
      readonly from: PitchName;
      readonly to: PitchName;
    }
  /** A key stays down, under another finger. */
  | {
      readonly kind: 'change';
      readonly finger: number;
      readonly from: number;
      readonly note: PitchName;
    }
  /** A finger that was free takes a key; `instead` of one that lifts, or joining the others. */
  | {
      readonly kind: 'take';
      readonly finger: number;
      readonly note: PitchName;
      readonly instead: number | null;
    }
  | { readonly kind: 'lift'; readonly finger: number; readonly note: PitchName };

/**
 * The steps in the order a teacher says them: what stays, what changes fingers, what goes, what is
 * taken, what lifts.
 */
export function stepsOf(from: Shape, to: Shape): MoveStep[] {
  return asOneHand(from, to) ?? fingerByFinger(from, to);
}

/**
 * The same fingers, all as far: the hand goes as it is, even where it comes to lie on a key it
 * held.
 */
function asOneHand(from: Shape, to: Shape): MoveStep[] | null {
  const way = midiOf(to.notes[0] ?? 'C4') - midiOf(from.notes[0] ?? 'C4');
  if (way === 0 || from.fingers.join() !== to.fingers.join()) return null;
  const steps = inThumbOrder(to).map(({ finger, note }): MoveStep => {
    const before = from.notes[from.fingers.indexOf(finger)] as PitchName;
    return { kind: 'go', finger, from: before, to: note };
  });
  const all = steps.every(
    (step) => step.kind === 'go' && midiOf(step.to) - midiOf(step.from) === way,
  );
  return all ? steps : null;
}

function fingerByFinger(from: Shape, to: Shape): MoveStep[] {
  const keyBefore = from.notes.map(midiOf);
  const staying: MoveStep[] = [];
  const changing: MoveStep[] = [];
  const going: MoveStep[] = [];
  const taking: { finger: number; note: PitchName }[] = [];
  const gaveWay = new Set<number>();
  inThumbOrder(to).forEach(({ finger, note }) => {
    const sameKey = keyBefore.indexOf(midiOf(note));
    const before = from.fingers.indexOf(finger);
    if (sameKey >= 0 && sameKey === before) staying.push({ kind: 'stay', finger, note });
    else if (sameKey >= 0) {
      const old = from.fingers[sameKey] as number;
      gaveWay.add(old);
      changing.push({ kind: 'change', finger, from: old, note });
    } else if (before >= 0)
      going.push({ kind: 'go', finger, from: from.notes[before] as PitchName, to: note });
    else taking.push({ finger, note });
  });
  const free = inThumbOrder(from).filter(
    ({ finger }) => !to.fingers.includes(finger) && !gaveWay.has(finger),
  );
  const taken = taking.map(({ finger, note }): MoveStep => {
    const nearest = nearestFinger(free, finger);
    if (nearest >= 0) {
      const [instead] = free.splice(nearest, 1);
      return { kind: 'take', finger, note, instead: (instead as { finger: number }).finger };
    }
    return { kind: 'take', finger, note, instead: null };
  });
  const lifted = free.map((each): MoveStep => ({ kind: 'lift', ...each }));
  return [...staying, ...changing, ...going, ...taken, ...lifted];
}

function inThumbOrder(shape: Shape): { finger: number; note: PitchName }[] {
  return shape.fingers
    .map((finger, i) => ({ finger, note: shape.notes[i] as PitchName }))
    .sort((a, b) => a.finger - b.finger);
}

function nearestFinger(list: readonly { readonly finger: number }[], finger: number): number {
  let best = -1;
  list.forEach((each, i) => {
    const way = Math.abs(each.finger - finger);
    if (best < 0 || way < Math.abs((list[best] as { finger: number }).finger - finger)) best = i;
  });
  return best;
}

/** The shape that the steps lead to: the opposite of `stepsOf`. Low to high. */
export function followSteps(steps: readonly MoveStep[]): Shape {
  const held = steps.flatMap((step) => {
    if (step.kind === 'lift') return [];
    return [{ finger: step.finger, note: step.kind === 'go' ? step.to : step.note }];
  });
  held.sort((a, b) => midiOf(a.note) - midiOf(b.note));
  return { notes: held.map((each) => each.note), fingers: held.map((each) => each.finger) };
}

/** Fingers that hold on to their key, in thumb order. */
export function fingersKept(steps: readonly MoveStep[]): number[] {
  return steps.flatMap((step) => (step.kind === 'stay' ? [step.finger] : []));
}

/**
 * Fingers of the new shape that come in, or stand on a key another finger held, and fingers that
 * only lift.
 */
export function fingersChanged(steps: readonly MoveStep[]): number[] {
  return steps.flatMap((step) => (step.kind === 'stay' || step.kind === 'go' ? [] : [step.finger]));
}
