import { requirePitch, type Pitch, type PitchName } from '../pitch/pitch.ts';
import { fingersOfDoubledTriad, fingersOfTriad, type Inversion } from './published-fingerings.ts';
import type { Hand } from './shape.ts';
import { holdingCost, spanOf } from './spans.ts';

/**
 * The fingers of notes held together, low to high (1 thumb … 5 little finger), for one to five
 * different keys; throws where there are none, more than five, or one twice.
 *
 * 1. A closed triad: the published triad fingering, the same in every key.
 * 2. A triad with its lowest note doubled at the octave: Beringer & Dunhill 1900.
 * 3. One note: 3, the middle of the hand (common practice).
 * 4. All else: the outer fingers are the thumb and the finger furthest from it whose relaxed span
 *    the outer notes still fill (a second 1 2, a third 1 3, a fourth 1 4, a fifth and more 1 5);
 *    the inner fingers are those that cost least to hold by the spans of Parncutt et al. 1997; of
 *    equals the one that spares finger 4, then the one whose fingers lie nearest the thumb. It
 *    gives 1 4 5 for an incomplete dominant seventh (B F G) in the right hand and 5 2 1 in the
 *    left, as taught.
 */
export function ofShape(notes: readonly PitchName[], hand: Hand): number[] {
  const pitches = notes.map(requirePitch).sort((a, b) => a.midi - b.midi);
  if (pitches.length === 0 || pitches.length > 5)
    throw new RangeError(`a hand holds one to five notes, not ${pitches.length}`);
  if (pitches.some((pitch, i) => i > 0 && pitch.midi === pitches[i - 1]?.midi))
    throw new RangeError(`one key twice: ${notes.join(' ')}`);
  return [...(published(pitches, hand) ?? bySpan(pitches, hand))];
}

/** Whether the fingers of a shape stand in a published table (1 and 2 above), and are not worked out from spans. */
export function isPublished(notes: readonly PitchName[], hand: Hand): boolean {
  const pitches = notes.map(requirePitch).sort((a, b) => a.midi - b.midi);
  return published(pitches, hand) !== null;
}

function published(pitches: readonly Pitch[], hand: Hand): readonly number[] | null {
  if (pitches.length === 3) {
    const inversion = closedTriad(pitches);
    return inversion === null ? null : fingersOfTriad(inversion, hand);
  }
  if (pitches.length === 4) {
    const form = doubledTriad(pitches);
    return form && fingersOfDoubledTriad(form.root, form.quality, form.inversion, hand);
  }
  return null;
}

/**
 * By keys: the semitones from each note to the next give the form of a major, minor or diminished
 * triad.
 */
const CLOSED: Readonly<Record<string, Inversion>> = {
  '4 3': 0,
  '3 4': 0,
  '3 3': 0,
  '3 5': 1,
  '4 5': 1,
  '3 6': 1,
  '5 4': 2,
  '5 3': 2,
  '6 3': 2,
};
/**
 * All forms of an augmented triad lie alike on the keys; its letters, two apart or three, say which
 * it is.
 */
const AUGMENTED: Readonly<Record<string, Inversion>> = { '2 2': 0, '2 3': 1, '3 2': 2 };

function closedTriad(pitches: readonly Pitch[]): Inversion | null {
  const keys = gaps(pitches).join(' ');
  if (keys !== '4 4') return CLOSED[keys] ?? null;
  const letters = pitches.slice(1).map((pitch, i) => pitch.step - (pitches[i] as Pitch).step);
  return AUGMENTED[letters.join(' ')] ?? null;
}

/**
 * Likewise with the lowest note doubled: quality, form, and the semitones from the lowest note to
 * the root.
 */
const BY_KEYS: Readonly<Record<string, readonly ['major' | 'minor', Inversion, number]>> = {
  '4 3 5': ['major', 0, 0],
  '3 5 4': ['major', 1, -4],
  '5 4 3': ['major', 2, 5],
  '3 4 5': ['minor', 0, 0],
  '4 5 3': ['minor', 1, -3],
  '5 3 4': ['minor', 2, 5],
};

function doubledTriad(pitches: readonly Pitch[]) {
  const found = BY_KEYS[gaps(pitches).join(' ')];
  const lowest = pitches[0];
  if (!found || !lowest) return null;
  const [quality, inversion, toRoot] = found;
  return { quality, inversion, root: (lowest.midi + toRoot + 12) % 12 };
}

function gaps(pitches: readonly Pitch[]): number[] {
  return pitches.slice(1).map((pitch, i) => pitch.midi - (pitches[i] as Pitch).midi);
}

/** The left hand is the right hand in a mirror. */
function bySpan(pitches: readonly Pitch[], hand: Hand): number[] {
  const between = gaps(pitches);
  return hand === 'right' ? fromThumb(between) : fromThumb(between.reverse()).reverse();
}

/** `between`: semitones from each note to the next, counted from the thumb. */
function fromThumb(between: readonly number[]): number[] {
  if (between.length === 0) return [3];
  const last = Math.max(outerFinger(between.reduce((a, b) => a + b, 0)), between.length + 1);
  let best: number[] | null = null;
  for (const inner of ascending(2, last - 1, between.length - 1)) {
    const fingers = [1, ...inner, last];
    if (!best || rankOf(fingers, between) < rankOf(best, between)) best = fingers;
  }
  if (!best) throw new RangeError('a hand has five fingers');
  return best;
}

function outerFinger(semitones: number): number {
  for (let finger = 5; finger > 2; finger--)
    if (semitones >= spanOf(1, finger).minRelaxed) return finger;
  return 2;
}

/**
 * Holding first (a cost is at most some hundreds), then whether finger 4 is used inside, then the
 * fingers themselves.
 */
function rankOf(fingers: readonly number[], between: readonly number[]): number {
  const cost = between.reduce(
    (sum, semitones, i) =>
      sum + holdingCost(fingers[i] as number, fingers[i + 1] as number, semitones),
    0,
  );
  const fourth = fingers.slice(0, -1).includes(4) ? 1 : 0;
  return (cost * 2 + fourth) * 100 + fingers.reduce((sum, finger) => sum + finger, 0);
}

/** Every ascending choice of `count` fingers from `low` to `high`. */
function ascending(low: number, high: number, count: number): number[][] {
  if (count === 0) return [[]];
  const found: number[][] = [];
  for (let first = low; first <= high - count + 1; first++)
    for (const rest of ascending(first + 1, high, count - 1)) found.push([first, ...rest]);
  return found;
}
