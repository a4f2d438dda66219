import type { Hand, Shape } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { Note } from '../../score/score.ts';
import type { HandLine } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

/** Keys that a hand has under its fingers while it plays some notes in a row. */
export interface Grip {
  readonly notes: readonly PitchName[];
  /** Fingers that stay as they are; null: free. */
  readonly given: readonly number[] | null;
}

/** A hand has five fingers, each on a key of its own. */
const FINGERS = 5;
const LITTLE = 5;

/**
 * The keys under a hand at each of its notes; null at a rest, and where there are more keys than fingers. Notes of the shape
 * that is held under their chord, together or in turn, are one grip, the whole shape; so is what lies between the two notes
 * of an octave. All else is what is struck; a single note
 * that the right hand reaches above its shape is the little finger's.
 *
 * Fingers that somebody has met on the first rung stay: the right hand's on its first two rungs, which have the same shapes, and
 * the left hand's single roots, which lie under one place of the hand (`LeftHand`).
 */
export function gripsOf(
  { chords, rungsAt }: Pick<KeysSong, 'chords' | 'rungsAt'>,
  hand: Hand,
  { notes, held }: Pick<HandLine, 'notes' | 'held'>,
): readonly (Grip | null)[] {
  const chordAt = (note: Note) =>
    chords.findIndex(({ at, length }) => note.at >= at && note.at < at + length);
  const own = chords.map(({ at }, chord): Grip | null => {
    const shape = held[chord];
    if (!shape || shape.notes.length === 0 || shape.notes.length > FINGERS) return null;
    const rungs = rungsAt(at);
    const isMet = hand === 'right' ? rungs.right < 3 : rungs.left < 4 && shape.notes.length === 1;
    if (isMet) return { notes: shape.notes, given: shape.fingers };
    const between = notes.filter((note) => chordAt(note) === chord).flatMap(inside(shape));
    return { notes: together(shape.notes, between), given: null };
  });
  const known = new Map<string, Grip>();
  const same = (grip: Grip): Grip => {
    const sign = `${grip.notes.map(midiOf).join(' ')}: ${grip.given?.join(' ') ?? ''}`;
    const found = known.get(sign) ?? grip;
    known.set(sign, found);
    return found;
  };
  return notes.map((note) => {
    const struck = new Set(note.pitches.map(midiOf));
    if (struck.size === 0 || struck.size > FINGERS || struck.size < note.pitches.length)
      return null;
    const grip = own[chordAt(note)];
    const keys = grip?.notes.map(midiOf) ?? [];
    const isHeld = [...struck].every((key) => keys.includes(key));
    if (isHeld && grip) return same(grip);
    // The hand opens: no other finger comes to lie above the little one.
    const isAbove =
      hand === 'right' && struck.size === 1 && Math.min(...struck) > Math.max(...keys);
    return same({ notes: note.pitches, given: isAbove && keys.length > 0 ? [LITTLE] : null });
  });
}

/** Single notes between the two of an octave, or whatever two a hand holds. */
const inside =
  (shape: Shape) =>
  ({ pitches }: Note): readonly PitchName[] => {
    const [low, high] = shape.notes.map(midiOf);
    const [only] = pitches;
    if (shape.notes.length !== 2 || pitches.length !== 1 || only === undefined) return [];
    const key = midiOf(only);
    return low !== undefined && high !== undefined && low < key && key < high ? [only] : [];
  };

/** Low to high, each key once; the shape alone where there are too many. */
function together(
  shape: readonly PitchName[],
  between: readonly PitchName[],
): readonly PitchName[] {
  const all = new Map([...shape, ...between].map((pitch) => [midiOf(pitch), pitch]));
  if (all.size > FINGERS) return shape;
  return [...all].sort(([a], [b]) => a - b).map(([, pitch]) => pitch);
}
