import { LETTERS, accidentalsOf, isNoteName, pitchClassOf, type Letter } from './pitch.ts';
import type { NoteName } from './pitch.ts';

export const MODES = [
  'major',
  'minor',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'locrian',
] as const;
export type Mode = (typeof MODES)[number];

/** A key: `{ tonic: 'E', mode: 'minor' }`. */
export interface Key {
  readonly tonic: NoteName;
  readonly mode: Mode;
}

/** Letters in the order of fifths: each next one is a fifth higher. F stands one fifth below C. */
const FIFTHS = 'FCGDAEB';
/** How many fifths the tonic of a mode stands above the major tonic of the same signature: A minor 3, D dorian 2. */
const MODE_FIFTHS: Readonly<Record<Mode, number>> = {
  major: 0,
  minor: 3,
  dorian: 2,
  phrygian: 4,
  lydian: -1,
  mixolydian: 1,
  locrian: 5,
};

/** Where a note stands on the line of fifths, C = 0, G = 1, F = −1, Bb = −2; throws on anything but a note name. */
export function fifthsOf(note: NoteName): number {
  if (!isNoteName(note)) throw new TypeError(`not a note name: ${JSON.stringify(note)}`);
  const alter = note.includes('#') ? note.length - 1 : 1 - note.length;
  return FIFTHS.indexOf(note.charAt(0)) - 1 + 7 * alter;
}

/** The note at a place on the line of fifths: 6 → `F#`. The inverse of `fifthsOf`. */
export function noteAtFifths(fifths: number): NoteName {
  const place = (((fifths + 1) % 7) + 7) % 7;
  return FIFTHS.charAt(place) + accidentalsOf(Math.floor((fifths + 1) / 7));
}

/**
 * The signature of a key: sharps positive, flats negative. Beyond ±7 it cannot be printed; the caller decides.
 * `{ tonic: 'D', mode: 'dorian' }` is 0.
 */
export function signatureOf(key: Key): number {
  return fifthsOf(key.tonic) - MODE_FIFTHS[key.mode];
}

/** The key of a signature and a mode: 1 sharp, minor → E minor. */
export function keyOfSignature(fifths: number, mode: Mode): Key {
  return { tonic: noteAtFifths(fifths + MODE_FIFTHS[mode]), mode };
}

/** The seven notes of a key from its tonic up; minor is the natural minor. */
export function scaleOf(key: Key): NoteName[] {
  const signature = signatureOf(key);
  const first = LETTERS.indexOf(key.tonic.charAt(0) as Letter);
  return LETTERS.map((_, step) => {
    const letter = LETTERS[(first + step) % 7] as Letter;
    return letter + accidentalsOf(alterIn(signature, letter));
  });
}

/** What a signature does to a letter, in semitones: F under one sharp is +1. */
export function alterIn(signature: number, letter: Letter): number {
  // Each letter is sharpened once in every seven sharps: F with the first, C with the second …
  return Math.floor((signature - FIFTHS.indexOf(letter) + 6) / 7);
}

const MODE_NAMES: Readonly<Record<string, Mode>> = {
  '': 'major',
  maj: 'major',
  ion: 'major',
  m: 'minor',
  min: 'minor',
  aeo: 'minor',
  dor: 'dorian',
  phr: 'phrygian',
  lyd: 'lydian',
  mix: 'mixolydian',
  loc: 'locrian',
};
const FULL_NAMES = [...MODES, 'ionian', 'aeolian'];

/**
 * The key that a text names, or null: `F# minor`, `Bb`, `E♭ major`, `Am`, `E dorian`. Modes may be cut to three
 * letters or more (`D mix`), as ABC 2.1 does; a lower-case tonic needs its mode said (`e minor`).
 */
export function readKey(text: string): Key | null {
  const match = /^\s*([A-Ga-g])([#♯b♭]?)\s*(\p{L}*)\s*$/u.exec(text);
  if (!match) return null;
  const [, letter = '', sign = '', word = ''] = match;
  if (word === 'M') return readKey(letter + sign);
  const name = word.toLowerCase();
  const mode = MODE_NAMES[name.length > 3 ? name.slice(0, 3) : name];
  if (!mode || (name.length > 3 && !FULL_NAMES.some((full) => full.startsWith(name)))) return null;
  if (name === '' && letter >= 'a') return null;
  const accidental = sign.replace('♯', '#').replace('♭', 'b');
  return { tonic: letter.toUpperCase() + accidental, mode };
}

/** `F# minor`, ASCII. `readKey` reads it back. */
export function writeKey(key: Key): string {
  return `${key.tonic} ${key.mode}`;
}

/** `F♯ minor`, for people. */
export function sayKey(key: Key): string {
  return `${sayNote(key.tonic)} ${key.mode}`;
}

/** `F#` → `F♯`, for people; octaves stay (`Bb3` → `B♭3`). */
export function sayNote(note: string): string {
  return note.charAt(0) + note.slice(1).replaceAll('#', '♯').replaceAll('b', '♭');
}

/** `F` in major, `E minor` otherwise: as people name the key of a song. */
export function sayTonic(key: Key): string {
  return key.mode === 'major' ? sayNote(key.tonic) : sayKey(key);
}

export function sameKey(a: Key, b: Key): boolean {
  return a.tonic === b.tonic && a.mode === b.mode;
}

/** Where a note stands in a key: its degree (1–7, by letter) and how far it is altered there, in semitones. */
export function degreeOf(key: Key, note: NoteName): { degree: number; alter: number } {
  const letter = note.charAt(0) as Letter;
  const steps = LETTERS.indexOf(letter) - LETTERS.indexOf(key.tonic.charAt(0) as Letter);
  const inKey = FIFTHS.indexOf(letter) - 1 + 7 * alterIn(signatureOf(key), letter);
  return { degree: ((steps + 7) % 7) + 1, alter: (fifthsOf(note) - inKey) / 7 };
}

/** Modes that sound minor: a tie between six flats and six sharps goes to the flats (E flat minor, not D sharp). */
const DARK: readonly Mode[] = ['minor', 'dorian', 'phrygian', 'locrian'];

/**
 * The twelve usual spellings of a mode from C upwards, one for each pitch of the octave: the one with the fewest
 * accidentals in its signature (common practice; F# major and Eb minor have six).
 */
export function keysToOffer(mode: Mode): Key[] {
  const keys: Key[] = [];
  const first = DARK.includes(mode) ? -6 : -5;
  for (let fifths = first; fifths < first + 12; fifths += 1)
    keys.push(keyOfSignature(fifths, mode));
  return keys.sort((a, b) => pitchClassOf(a.tonic) - pitchClassOf(b.tonic));
}

/** A key as it is offered: beyond what people read (C# major, Cb major) its usual spelling (Db, B). */
export function usualSpelling(key: Key): Key {
  const sounding = pitchClassOf(key.tonic);
  const found = keysToOffer(key.mode).find((each) => pitchClassOf(each.tonic) === sounding);
  return found ?? key;
}
