import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { canFollow, ofNote, ofStep, ofThree, sumOf, type Fingered } from './line-rules.ts';
import type { Hand } from './shape.ts';

/** A note of a line in which the hand may leave its place. */
export interface ShiftingNote {
  readonly pitch: PitchName;
  /** Whether the hand may be put anew before it. */
  readonly mayShift: boolean;
  /** The finger that the hand has there by its grip or place, and the points of another one; null: none. */
  readonly usual: { readonly finger: number; readonly points: number } | null;
}

/** Points beside those of the line (`LINE_RULES`), where a semitone too wide costs 1 to 4. Ours, not published. */
export const SHIFT_POINTS = {
  /** The hand is put anew where it may be: so that a teacher's stepping lines come out (`test/reference/left-fingers`). */
  shift: 3,
  /** Another finger than that of the grip that a chord has, each time it is struck. */
  departure: 2,
  /** Another finger than one that is known already. */
  relearnt: 12,
  /** The hand is put anew in the middle of something: only where it must be. */
  forced: 60,
} as const;

/** Wider than a third the hand goes as a whole, as well as by fingers beside each other (ours). */
const THIRD = 4;
const FINGERS = [1, 2, 3, 4, 5] as const;
/** The left hand is the right hand in a mirror about D4: its white and black keys lie alike on both sides. */
const MIRROR = 2 * 62;

/** A way to a note: `before` is the finger before the last without a shift between, 0: none. */
interface Way {
  readonly fingers: readonly number[];
  readonly total: number;
  readonly last: Fingered;
  readonly before: Fingered | null;
}

/**
 * The easiest fingers for a line in which the hand shifts, exact, by dynamic programming over the last two fingers: fewest
 * points by the rules of Parncutt et al. 1997 while the hand stays, and of `SHIFT_POINTS` where it is put anew or leaves a
 * grip; of equals nearest the thumb where they first differ. Neighbours within a third have two fingers, and in a shift no
 * finger crosses another. A repeated note keeps its finger, or is the first after a shift.
 */
export function ofShiftingLine(notes: readonly ShiftingNote[], hand: Hand): readonly number[] {
  const points = pointsBetween();
  let ways: readonly Way[] = [];
  notes.forEach(({ pitch, mayShift, usual }, i) => {
    const midi = midiOf(pitch);
    const key = hand === 'right' ? midi : MIRROR - midi;
    const best = new Map<number, Way>();
    const offer = (way: Way): void => {
      const state = way.last.finger * 8 + (way.before?.finger ?? 0);
      const known = best.get(state);
      if (!known || isBefore(way, known)) best.set(state, way);
    };
    for (const finger of FINGERS) {
      const last = { key, finger };
      const own = usual === null || usual.finger === finger ? 0 : usual.points;
      const note = sumOf(ofNote(last));
      if (i === 0) offer({ fingers: [finger], total: own + note, last, before: null });
      for (const way of ways) {
        const fingers = [...way.fingers, finger];
        const stays = points(way, last);
        if (stays !== null) {
          const { before } = way.last.key === key ? way : { before: way.last };
          offer({ fingers, total: way.total + own + stays, last, before });
        }
        const shift = shiftTo(way.last, last, mayShift);
        if (shift !== null)
          offer({ fingers, total: way.total + own + note + shift, last, before: null });
      }
    }
    ways = [...best.values()];
  });
  const [first, ...others] = ways;
  return others.reduce((best, way) => (best && isBefore(way, best) ? way : best), first)?.fingers ?? []; // prettier-ignore
}

function isBefore(one: Way, other: Way): boolean {
  if (one.total !== other.total) return one.total < other.total;
  const at = one.fingers.findIndex((finger, i) => finger !== other.fingers[i]);
  return at >= 0 && (one.fingers[at] ?? 0) < (other.fingers[at] ?? 0);
}

/** Points for putting the hand anew; null where no hand is. */
function shiftTo(from: Fingered, to: Fingered, mayShift: boolean): number | null {
  const way = to.key - from.key;
  if (from.finger === to.finger && Math.abs(way) <= THIRD) return null;
  const crosses = way > 0 ? to.finger < from.finger : to.finger > from.finger;
  const isUsual = mayShift && (way === 0 || (Math.abs(way) > THIRD && !crosses));
  return isUsual ? SHIFT_POINTS.shift : SHIFT_POINTS.forced;
}

/** What was worked out, for all lines: the rules hang on the three notes and their fingers alone. Some megabytes at most. */
const KNOWN = new Map<number, number | null>();
const MOST_KNOWN = 100_000;

/** Points for going on to a note while the hand stays, each worked out once; null: no fingers follow so. */
function pointsBetween(): (way: Way, to: Fingered) => number | null {
  const place = ({ key, finger }: Fingered) => (key + 128) * 8 + finger;
  return ({ before, last }, to) => {
    if (last.key === to.key) return last.finger === to.finger ? 0 : null;
    const sign = ((before ? place(before) : 0) * 4096 + place(last)) * 4096 + place(to);
    const found = KNOWN.get(sign);
    if (found !== undefined) return found;
    const sum = canFollow(last, to)
      ? sumOf(ofNote(to)) +
        sumOf(ofStep(last, to)) +
        (before ? sumOf(ofThree(before, last, to)) : 0)
      : null;
    if (KNOWN.size >= MOST_KNOWN) KNOWN.clear();
    KNOWN.set(sign, sum);
    return sum;
  };
}
