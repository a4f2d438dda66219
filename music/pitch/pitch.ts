/** A letter with its accidentals, ASCII: `C`, `F#`, `Bb`, `F##`. Never `E♭`. */
export type NoteName = string;
/** A scientific pitch name, ASCII: `C4` is middle C, `F#4`, `Bb3`, `Cb5` is a semitone below `C5`. */
export type PitchName = string;

export const LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
export type Letter = (typeof LETTERS)[number];

/** A pitch taken apart. The name is the value that is stored and passed; this is for computing. */
export interface Pitch {
  readonly letter: Letter;
  /** Semitones of alteration: sharp +1, flat −1. */
  readonly alter: number;
  readonly octave: number;
  /** Semitones, C4 = 60. Only inside a computation. */
  readonly midi: number;
  /** Staff position: diatonic steps, C4 = 28. */
  readonly step: number;
}

const NATURAL: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const PITCH = /^([A-G])(#{0,3}|b{0,3})(-?\d{1,2})$/;
const NOTE = /^([A-G])(#{0,3}|b{0,3})$/;
const known = new Map<PitchName, Pitch>();

function alteration(accidentals: string): number {
  return accidentals.startsWith('b') ? -accidentals.length : accidentals.length;
}

/** The pitch of a name, or null where the text is none. */
export function parsePitch(name: string): Pitch | null {
  const seen = known.get(name);
  if (seen) return seen;
  const match = PITCH.exec(name);
  if (!match) return null;
  const letter = match[1] as Letter;
  const alter = alteration(match[2] ?? '');
  const octave = Number(match[3]);
  const pitch: Pitch = {
    letter,
    alter,
    octave,
    midi: 12 * (octave + 1) + NATURAL[letter] + alter,
    step: 7 * octave + LETTERS.indexOf(letter),
  };
  if (known.size < 2000) known.set(name, pitch);
  return pitch;
}

/** The pitch of a name that is known to be one; throws on anything else. */
export function requirePitch(name: PitchName): Pitch {
  const pitch = parsePitch(name);
  if (!pitch) throw new TypeError(`not a pitch: ${JSON.stringify(name)}`);
  return pitch;
}

/** The black keys by the names that music in easy keys gives them (common practice). */
const KEY_NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** A key of a keyboard by its usual name, where no key of a piece says otherwise. @param midi C4 = 60 */
export function keyNameOf(midi: number): PitchName {
  return `${KEY_NAMES[((midi % 12) + 12) % 12] ?? 'C'}${Math.floor(midi / 12) - 1}`;
}

/** Semitones, C4 = 60. */
export function midiOf(name: PitchName): number {
  return requirePitch(name).midi;
}

export function accidentalsOf(alter: number): string {
  return alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter);
}

export function pitchName(letter: Letter, alter: number, octave: number): PitchName {
  return `${letter}${accidentalsOf(alter)}${octave}`;
}

/** The letter and accidentals of a pitch: `F#4` → `F#`. */
export function noteOf(name: PitchName): NoteName {
  const pitch = requirePitch(name);
  return pitch.letter + accidentalsOf(pitch.alter);
}

/** Semitones above C, 0–11, of a note name (`Cb` is 11); throws on anything else. */
export function pitchClassOf(note: NoteName): number {
  const match = NOTE.exec(note);
  if (!match) throw new TypeError(`not a note name: ${JSON.stringify(note)}`);
  return (((NATURAL[match[1] as Letter] + alteration(match[2] ?? '')) % 12) + 12) % 12;
}

export function isNoteName(text: string): boolean {
  return NOTE.test(text);
}
