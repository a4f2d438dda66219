import { Pitches, type Letter, type PitchName, type Range } from '#music';

const LETTERS: readonly Letter[] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/** So many notes of the white keys higher, below zero lower; from a black key to the white one beyond it. */
function stepped(name: PitchName, by: number): PitchName {
  if (by === 0) return name;
  const { letter, octave } = Pitches.requirePitch(name);
  const place = octave * 7 + LETTERS.indexOf(letter) + by;
  return Pitches.pitchName(LETTERS[((place % 7) + 7) % 7] ?? 'C', 0, Math.floor(place / 7));
}

/** A range with its ends moved by steps, up above zero; null: nothing would be left of it. */
export function steppedRange({ low, high }: Range, lowBy: number, highBy: number): Range | null {
  const range = { low: stepped(low, lowBy), high: stepped(high, highBy) };
  return Pitches.midiOf(range.low) < Pitches.midiOf(range.high) ? range : null;
}
