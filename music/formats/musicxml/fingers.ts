import { LETTERS, requirePitch, type PitchName } from '../../pitch/pitch.ts';
import type { Note } from '../../score/score.ts';

export interface FingerPlace {
  /** For an engraver, and not a file: the figures of a chord stand one over another. */
  readonly stacked: boolean;
  /** Below the staff; else above. */
  readonly below: boolean;
}

function placeOf(name: PitchName): number {
  const { letter, octave } = requirePitch(name);
  return octave * LETTERS.length + LETTERS.indexOf(letter);
}

/** Index of the lowest pitch whose head no second moves aside; of the lowest where each is in one. */
function headInLine(pitches: readonly PitchName[]): number {
  const places = pitches.map(placeOf);
  const free = places.findIndex(
    (place, i) => !places.some((other, j) => i !== j && Math.abs(place - other) < 2),
  );
  return Math.max(0, free);
}

/**
 * The fingers to write with one pitch of a note, the one nearest to the staff first. In a file each stands with its own
 * pitch. An engraver centres each over its own head, and a second puts two heads side by side: stacked, all stand with one.
 * @param order index of the pitch in the note
 */
export function fingersAt(
  { pitches, fingers = [] }: Pick<Note, 'pitches' | 'fingers'>,
  order: number,
  { stacked, below }: FingerPlace,
): number[] {
  if (!stacked) return fingers.slice(order, order + 1);
  if (order !== headInLine(pitches)) return [];
  return below ? [...fingers].reverse() : [...fingers];
}
