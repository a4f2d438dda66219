import { intervalBetween, sayInterval } from '../pitch/interval.ts';
import { noteOf, requirePitch, type PitchName } from '../pitch/pitch.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import { numberWord } from '../score/number-words.ts';

/** A key by its name without the octave, for a hand that is already there: `B♭`. */
export function sayKeyName(pitch: PitchName, says: Says = ENGLISH): string {
  return says.note(noteOf(pitch));
}

const TIMES = ['', 'second ', 'third ', 'fourth ', 'fifth '] as const;
const MIDDLE_C = 60;

/**
 * Where a key is, from middle C: `middle C`, `the G below middle C`, `the second E above middle C`.
 */
export function sayPlace(pitch: PitchName, says: Says = ENGLISH): string {
  const { midi } = requirePitch(pitch);
  const middle = `middle ${says.note('C')}`;
  const name = sayKeyName(pitch, says);
  if (pitch === 'C4') return middle;
  if (midi === MIDDLE_C) return `the ${name} that is ${middle}`;
  const way = Math.abs(midi - MIDDLE_C);
  const times = TIMES[Math.floor((way - 1) / 12)] ?? `${Math.ceil(way / 12)}th `;
  return `the ${times}${name} ${midi > MIDDLE_C ? 'above' : 'below'} ${middle}`;
}

/**
 * How far a finger goes, on the keyboard: one key further is a half step, two a step, whatever the
 * notes are called; further on by the names of the notes (a third, a fourth …), and by counting
 * where those names would be learned ones.
 */
export function sayDistance(from: PitchName, to: PitchName): string {
  const interval = intervalBetween(from, to);
  const keys = Math.abs(interval.semitones);
  if (keys === 1) return 'a half step';
  if (keys === 2) return 'a step';
  const said = sayInterval(interval);
  return /augmented|diminished/.test(said) ? `${numberWord(keys)} half steps` : said;
}

export function sayFinger(finger: number): string {
  return finger === 1 ? 'thumb' : String(finger);
}

const PLAIN = ['C', 'C♯', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'A♭', 'A', 'B♭', 'B'] as const;

/** The usual name of a key that no chord has spelled, for a sentence: 55 is `G3`. */
export function noteOnKey(midi: number): string {
  return `${PLAIN[((midi % 12) + 12) % 12] ?? ''}${Math.floor(midi / 12) - 1}`;
}
