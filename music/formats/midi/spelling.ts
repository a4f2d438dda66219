import { fifthsOf, noteAtFifths, type Key } from '../../pitch/key.ts';
import { parsePitch, pitchName, type Letter, type PitchName } from '../../pitch/pitch.ts';

/**
 * Names for the twelve pitches in a key: the nearest to the tonic on the line of fifths, from the lowered second to the
 * raised fourth (Longuet-Higgins, "Perception of melodies", Nature 263 (1976), pages 646–653). That holds every scale note
 * of major and minor, and the raised sixth and seventh of minor.
 */
const LOWEST = -5;

/**
 * A pitch by its name in a key. A note outside the scale that goes up by a half step is raised rather than lowered (C♯ to D
 * in C major, where D♭ is nearer on the line: common practice).
 *
 * @param next the next pitch of the same voice; null: none
 */
export function spell(midi: number, key: Key, next: number | null): PitchName {
  const tonic = fifthsOf(key.tonic);
  // A fifth is seven semitones; seven times seven is one more than a multiple of twelve, so 7 undoes itself.
  const above = ((((midi * 7 - tonic - LOWEST) % 12) + 12) % 12) + LOWEST;
  const isLowered = key.mode === 'minor' ? above === LOWEST : above <= -2;
  return named(midi, tonic + above + (isLowered && next === midi + 1 ? 12 : 0));
}

function named(midi: number, fifths: number): PitchName {
  const note = noteAtFifths(fifths);
  const letter = note.charAt(0) as Letter;
  const alter = note.includes('#') ? note.length - 1 : 1 - note.length;
  const octave = Math.floor((midi - alter) / 12) - 1;
  const name = pitchName(letter, alter, octave);
  if (parsePitch(name)?.midi !== midi) throw new RangeError(`no name for pitch ${String(midi)}`);
  return name;
}
