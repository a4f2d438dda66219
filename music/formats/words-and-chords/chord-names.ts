import { keyOfSignature, scaleOf, signatureOf, type Key } from '../../pitch/key.ts';
import { RAISED } from '../../pitch/chord-names.ts';
import type { NoteName } from '../../pitch/pitch.ts';
import { factOf, keyIn } from './facts.ts';
import { germanNote } from './german-notes.ts';
import { syllableNote } from './syllable-notes.ts';

/**
 * What chords are called in a text: by letters (`Am7`), by German letters (`B` is B flat, `H` is B, a small letter is
 * minor), by the fixed syllables of Romance languages (`Lam7`), or by the degrees of the key (`6-7`).
 */
export type ChordNames = 'letters' | 'German' | 'solfège' | 'numbers';
/** Whether the tonic chord of a minor song is called 6- or 1- where chords are numbers. */
export type MinorFrom = '6-' | '1-';

/** How the chord names of a line are read. */
export interface NameReading {
  readonly names: ChordNames;
  /** What numbers are counted from: the notes of the degrees 1 to 7. */
  readonly degrees: readonly NoteName[];
  /** Counted from a minor tonic: a flat before 3, 6 and 7 says what the scale has anyway. */
  readonly isMinor?: boolean;
}

export const LETTERS: NameReading = { names: 'letters', degrees: [] };

/** Root and bass as people write them, and all between. */
interface Parted {
  readonly root: NoteName;
  readonly rest: string;
  readonly bass: NoteName | null;
  readonly isSmall: boolean;
}

function parted(
  text: string,
  noteOf: (text: string) => { note: NoteName; length: number } | null,
): Parted | null {
  const slash = text.lastIndexOf('/');
  const over = slash > 0 ? text.slice(slash + 1) : '';
  // `C6/9` is one chord: what stands after its stroke is no note.
  const below = over === '' ? null : noteOf(over);
  const bass = below !== null && below.length === over.length ? below.note : null;
  const name = bass === null ? text : text.slice(0, slash);
  const root = noteOf(name);
  if (!root) return null;
  return { root: root.note, rest: name.slice(root.length), bass, isSmall: /^\p{Ll}/u.test(name) };
}

const joined = ({ root, rest, bass }: Parted): string => root + rest + (bass ? `/${bass}` : '');

/** A minor chord by a small letter, where nothing else says what it is: `d`, `h7`. */
function smallIsMinor(parts: Parted): Parted {
  // `ein`, `hin` and `bin` are words, and no `min` is left out of them.
  const says = /^(m(?!aj)|min|-|dim|°|o|aug|\+|maj|sus|ø|in)/.test(parts.rest);
  return parts.isSmall && !says ? { ...parts, rest: `m${parts.rest}` } : parts;
}

/** `♭6`, `6-7/5`: degree, what kind of chord, bass as a degree of the key. `<`, `>` and `^` say how it is struck. */
const NUMBER = /^[<>]?([b♭#♯]?)([1-7])([^/<>^]{0,12})(?:\/([b♭#♯]?)([1-7]))?[<>^.']{0,2}$/;

function degreeNote({ degrees, isMinor }: NameReading, sign: string, degree: string): NoteName {
  const note = degrees[Number(degree) - 1] ?? 'C';
  const isFlat = sign === 'b' || sign === '♭';
  if (sign === '' || (isMinor === true && isFlat && '367'.includes(degree))) return note;
  const way = isFlat ? 'b' : '#';
  const other = way === '#' ? 'b' : '#';
  return note.endsWith(other) ? note.slice(0, -1) : note + way;
}

function numbered(text: string, reading: NameReading): string | null {
  const match = NUMBER.exec(text);
  if (!match) return null;
  const [, sign = '', degree = '', kind = '', bassSign = '', bassDegree] = match;
  const rest = kind
    .replaceAll(/[⁰¹²³⁴-⁹]/g, (each) => String(RAISED.indexOf(each)))
    .replace(/^-/, 'm')
    .replace(/^[º°]/, 'dim')
    .replace(/^Δ/, 'maj7');
  const root = degreeNote(reading, sign, degree);
  const bass = bassDegree === undefined ? '' : `/${degreeNote(reading, bassSign, bassDegree)}`;
  return root + rest + bass;
}

/** The chord in letters that a name stands for; null: in these names it is none. What is no chord in letters either is left as it is. */
export function inLetters(text: string, reading: NameReading): string | null {
  const { names } = reading;
  if (names === 'letters') return text;
  if (names === 'numbers') return numbered(text, reading);
  const parts = parted(text, names === 'German' ? germanNote : syllableNote);
  return parts && joined(names === 'German' ? smallIsMinor(parts) : parts);
}

/** Notes of the degrees. In a minor key counted from its own tonic 3, 6 and 7 are those of its scale, with a flat before them or without. */
export function degreesOf(key: Key, minorFrom: MinorFrom): NoteName[] {
  if (key.mode === 'minor' && minorFrom === '1-') return scaleOf(key);
  return scaleOf(keyOfSignature(signatureOf(key), 'major'));
}

const SAYS = /^\s*(?:chords?|chord names|akkorde|acordes|accords|accordi)\s*[:=]\s*(.+)$/i;
const WORDS: readonly (readonly [RegExp, ChordNames])[] = [
  [/^(numbers?|degrees|zahlen|números|chiffres|numeri)/i, 'numbers'],
  [/^(solf[eèé]ge|solfeo|solfejo|solfeggio|do re mi|do, re, mi)/i, 'solfège'],
  [/^(german|deutsch|h)\b/i, 'German'],
  [/^(letters|english|englisch)/i, 'letters'],
];

/** What a song says its chords are called, on a line of its own: `Chords: numbers from 1-`, `Akkorde: deutsch`. */
export interface SaidNames {
  readonly names: ChordNames | null;
  readonly minorFrom: MinorFrom | null;
}

export function saidNames(lines: readonly string[]): SaidNames {
  for (const line of lines) {
    const said = SAYS.exec(line)?.[1];
    if (said === undefined) continue;
    const names = WORDS.find(([pattern]) => pattern.test(said.trim()))?.[1] ?? null;
    const from = /\b(?:from|ab|von) ([16])(?:-|m)?/i.exec(said)?.[1];
    if (names) return { names, minorFrom: from === undefined ? null : from === '1' ? '1-' : '6-' };
  }
  return { names: null, minorFrom: null };
}

/** The key that the text names before a line, by lines; null: none yet. */
export function keysBefore(lines: readonly string[]): (Key | null)[] {
  let key: Key | null = null;
  return lines.map((line) => {
    const fact = line.includes(':') || line.includes('=') ? factOf(line) : null;
    if (fact?.kind === 'key') key = keyIn(fact) ?? key;
    return key;
  });
}
