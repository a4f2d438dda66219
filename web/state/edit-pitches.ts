import { Keys, Pitches, type Letter, type PitchName, type Voice } from '#music';

const LETTERS: readonly Letter[] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

/** From where a voice that has no note yet is begun, as it sounds: its first letter lies in the octave of C below. */
const BEGINS_NEAR: Readonly<Record<Voice['clef'], PitchName>> = {
  treble: 'F4',
  bass: 'F3',
  'treble-8': 'F3',
  'bass-8': 'F2',
};

export const beginsNear = (voice: Voice): PitchName => BEGINS_NEAR[voice.clef];

/** The pitch on a line or space (C4 = 28) under a signature. */
function onStep(step: number, signature: number): PitchName {
  const octave = Math.floor(step / 7);
  const letter = LETTERS[step - 7 * octave] as Letter;
  return Pitches.pitchName(letter, Keys.alterIn(signature, letter), octave);
}

/** The pitch of a letter that lies nearest to another one, as the signature has it; of two equally near the upper. */
export function nearest(letter: Letter, to: PitchName, signature: number): PitchName {
  const { step } = Pitches.requirePitch(to);
  const up = (((LETTERS.indexOf(letter) - step) % 7) + 7) % 7;
  return onStep(step + (up > 3 ? up - 7 : up), signature);
}

/** The letter at or above a pitch: a note that joins another one from above. */
export function above(letter: Letter, pitch: PitchName, signature: number): PitchName {
  const { step } = Pitches.requirePitch(pitch);
  const up = (((LETTERS.indexOf(letter) - step) % 7) + 7) % 7;
  return onStep(step + (up === 0 ? 7 : up), signature);
}

/** One line or space up or down, as the signature has it. */
export function stepped(pitch: PitchName, direction: -1 | 1, signature: number): PitchName {
  return onStep(Pitches.requirePitch(pitch).step + direction, signature);
}

export function octaved(pitch: PitchName, direction: -1 | 1): PitchName {
  const { letter, alter, octave } = Pitches.requirePitch(pitch);
  return Pitches.pitchName(letter, alter, octave + direction);
}

export function altered(pitch: PitchName, alter: -1 | 0 | 1): PitchName {
  const { letter, octave } = Pitches.requirePitch(pitch);
  return Pitches.pitchName(letter, alter, octave);
}

/**
 * How a sounding note is written under a signature: the twelve notes from a minor third above its major tonic down to the
 * augmented fifth, on the line of fifths (common practice: E flat to G sharp where nothing is signed).
 * @param midi semitones, C4 = 60
 */
export function spelled(midi: number, signature: number): PitchName {
  for (let fifths = signature - 3; fifths <= signature + 8; fifths += 1) {
    const note = Keys.noteAtFifths(fifths);
    const up = midi - Pitches.midiOf(`${note}4`);
    if (up % 12 === 0) return `${note}${4 + up / 12}`;
  }
  throw new RangeError(`no note sounds at ${midi}`);
}

/** A half step up or down: raised on the way up, lowered on the way down, unless the key has that note. */
export function halfStepped(pitch: PitchName, direction: -1 | 1, signature: number): PitchName {
  const { letter, alter, octave, midi } = Pitches.requirePitch(pitch);
  const inKey = spelled(midi + direction, signature);
  const parts = Pitches.requirePitch(inKey);
  if (parts.alter === Keys.alterIn(signature, parts.letter)) return inKey;
  const own = Pitches.pitchName(letter, alter + direction, octave);
  return Math.abs(alter + direction) <= 1 ? own : inKey;
}
