import { degreeOf, sayKey, sayNote, type Key } from './key.ts';
import {
  LETTERS,
  accidentalsOf,
  requirePitch,
  type Letter,
  type NoteName,
  type PitchName,
} from './pitch.ts';

/** What people call notes; `numbers` counts them in the key. */
export const NOTE_NAMES = ['english', 'german', 'solfege', 'numbers'] as const;
export type NamedNotes = (typeof NOTE_NAMES)[number];

/** Fixed do, as in Romance countries: do is C in every key. */
const SYLLABLES: Readonly<Record<Letter, string>> = {
  C: 'Do',
  D: 'Re',
  E: 'Mi',
  F: 'Fa',
  G: 'Sol',
  A: 'La',
  B: 'Si',
};

/** H is B and B is B flat; -is raises, -es lowers; E and A drop its e: Es, As, Asas (so LilyPond 2.24 has it, `deutsch`). */
function german(letter: Letter, alter: number): string {
  if (letter === 'B' && alter === -1) return 'B';
  const base = letter === 'B' ? 'H' : letter;
  if (alter >= 0) return base + 'is'.repeat(alter);
  const first = letter === 'A' || letter === 'E' ? 's' : 'es';
  const rest = letter === 'A' ? 'as' : 'es';
  return base + first + rest.repeat(-alter - 1);
}

/** Degree in the key, its alteration before it: `♯4`, `♭7` (common practice). In minor they count in the minor scale. */
function number(note: NoteName, key: Key): string {
  const { degree, alter } = degreeOf(key, note);
  return signs(alter) + String(degree);
}

const signs = (alter: number): string =>
  accidentalsOf(alter).replaceAll('#', '♯').replaceAll('b', '♭');

/**
 * A note as a player calls it, its octave left out: `B♭`, `B`, `Si♭`, `♭7`.
 * @param note a pitch or a note
 * @param key what numbers are counted in
 */
export function say(note: PitchName | NoteName, names: NamedNotes, key: Key): string {
  const { letter, alter } = requirePitch(/\d$/.test(note) ? note : `${note}4`);
  const name = letter + accidentalsOf(alter);
  switch (names) {
    case 'english':
      return sayNote(name);
    case 'german':
      return german(letter, alter);
    case 'solfege':
      return SYLLABLES[letter] + signs(alter);
    case 'numbers':
      return number(name, key);
  }
}

/**
 * What a heading says once, so that nobody takes one B for the other; empty: letters need no word.
 * @param key of the page; its name in the heading stays English
 */
export function sayNames(names: NamedNotes, key: Key | null): string {
  const tonic = key ? say(key.tonic, names, key) : '';
  const here =
    key && tonic !== say(key.tonic, 'english', key) && key.tonic !== 'C'
      ? `; ${sayKey(key)} is on ${tonic}`
      : '';
  switch (names) {
    case 'english':
      return '';
    case 'german':
      return `notes are called as in German: H is B natural, B is B flat${here}`;
    case 'solfege':
      return `notes are called do re mi, and do is C${here}`;
    case 'numbers':
      return key
        ? `chords are numbers in the key: 1 is ${sayNote(key.tonic)}; sentences keep the letters`
        : '';
  }
}

/** The seven naturals as they are called, from C up: how a person chooses. */
export function naturals(names: Exclude<NamedNotes, 'numbers'>): string[] {
  const key: Key = { tonic: 'C', mode: 'major' };
  return LETTERS.map((letter) => say(letter, names, key));
}
