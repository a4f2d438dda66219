import type { Hand } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { Note } from '../../score/score.ts';
import type { HandLine } from './hand-line.ts';
import { leftFingers } from './left-fingers.ts';
import type { KeysSong } from './keys-song.ts';

/** Keys that a hand has under its fingers while it plays some notes in a row. */
export interface Grip {
  readonly notes: readonly PitchName[];
  /** Fingers that stay as they are; null: free. */
  readonly given: readonly number[] | null;
  /** What the hand plays under the whole chord where its notes are fingered one by one, as a line; missing: `notes`. */
  readonly place?: readonly PitchName[];
}

/** A hand has five fingers, each on a key of its own. */
const FINGERS = 5;
const LITTLE = 5;

/**
 * The keys under a hand at each of its notes; null at a rest, and where there are more keys than fingers. Notes of the shape
 * that is held under their chord, together or in turn, are one grip, the whole shape. All else is what is struck; a single
 * note that the right hand reaches above its shape is the little finger's, and the top of the shape, where it comes back to
 * that alone, has another.
 *
 * Fingers that somebody has met on the first rung stay on the right hand's second, which has the same shapes. Single notes of
 * the left hand are a line (`leftFingers`): were every root the little finger's, steps from root to root would be one
 * finger's on neighbouring keys.
 */
export function gripsOf(
  song: Pick<KeysSong, 'score' | 'chords' | 'rungsAt'>,
  hand: Hand,
  { notes, held }: Pick<HandLine, 'notes' | 'held'>,
): readonly (Grip | null)[] {
  const { chords, rungsAt } = song;
  const inLine = hand === 'left' ? leftFingers(song, { notes, held }) : new Map<number, number>();
  const chordAt = (note: Note) =>
    chords.findIndex(({ at, length }) => note.at >= at && note.at < at + length);
  const own = chords.map(({ at }, chord): Grip | null => {
    const shape = held[chord];
    if (!shape || shape.notes.length === 0 || shape.notes.length > FINGERS) return null;
    const isMet = hand === 'right' && rungsAt(at).right < 3;
    return { notes: shape.notes, given: isMet ? shape.fingers : null };
  });
  const known = new Map<string, Grip>();
  const same = (grip: Grip): Grip => {
    const sign = [grip.notes.map(midiOf), grip.given ?? [], (grip.place ?? []).map(midiOf)]
      .map((each) => each.join(' '))
      .join(': ');
    const found = known.get(sign) ?? grip;
    known.set(sign, found);
    return found;
  };
  const underChord = (chord: number) =>
    notes.filter((_, i) => inLine.has(i)).filter((note) => chordAt(note) === chord).flatMap(({ pitches }) => pitches); // prettier-ignore
  const places = chords.map((_, chord) => (inLine.size > 0 ? underChord(chord) : []));
  const isReached = (note: Note | undefined): boolean => {
    const [only] = note?.pitches ?? [];
    const top = note && own[chordAt(note)]?.notes.at(-1);
    const isAlone = hand === 'right' && note?.pitches.length === 1;
    return isAlone && only !== undefined && top !== undefined && midiOf(only) > midiOf(top);
  };
  return notes.map((note, i) => {
    const struck = new Set(note.pitches.map(midiOf));
    if (struck.size === 0 || struck.size > FINGERS || struck.size < note.pitches.length)
      return null;
    const grip = own[chordAt(note)];
    const finger = inLine.get(i);
    if (finger !== undefined)
      return same({ notes: note.pitches, given: [finger], place: places[chordAt(note)] ?? [] });
    const keys = grip?.notes.map(midiOf) ?? [];
    const isHeld = [...struck].every((key) => keys.includes(key));
    // Back from a note above the shape to its top: the little finger has just struck, so another one comes.
    const isBack = struck.has(Math.max(...keys)) && struck.size === 1 && isReached(notes[i - 1]);
    if (isHeld && grip && !(isBack && grip.given === null)) return same(grip);
    // The hand opens: no other finger comes to lie above the little one.
    return same({ notes: note.pitches, given: isReached(note) ? [LITTLE] : null });
  });
}
