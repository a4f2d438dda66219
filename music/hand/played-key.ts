import {
  keysToOffer,
  sayKey,
  sayNote,
  scaleOf,
  signatureOf,
  usualSpelling,
  type Key,
} from '../pitch/key.ts';
import { isNoteName, pitchClassOf, type NoteName } from '../pitch/pitch.ts';
import { counted, listed } from '../score/number-words.ts';

/** A song that is read in one key and sounds in another: by the transpose button of a keyboard, or by a capo. */
export interface PlayedKey {
  readonly by: 'transpose button' | 'capo';
  /** What stands on the page and under the fingers. */
  readonly plays: Key;
  readonly sounds: Key;
  /** Button: semitones to set, −6 to 6. Capo: the fret. Never 0. */
  readonly amount: number;
  /** `play in C, keyboard set to +2: it sounds in D`; `capo 2: shapes of G, it sounds in A`. */
  readonly words: string;
  /** What to put back after the song: `Set the keyboard back to 0 after this song.` */
  readonly reminder: string;
}

/** What it takes to read in another key than sounds: an instrument's own way. */
interface Reader {
  readonly transposeButton?: boolean;
  readonly capo?: 0 | 5 | 7;
}

type Ways = 'keys' | 'guitar';

/** Tonics of the open shapes of a guitar, as they are taught (common practice). */
const OPEN_BRIGHT: readonly NoteName[] = ['C', 'G', 'D', 'A', 'E'];
const OPEN_DARK: readonly NoteName[] = ['A', 'E', 'D'];
/** Modes whose chord on the tonic is major. */
const BRIGHT: readonly Key['mode'][] = ['major', 'lydian', 'mixolydian'];

/** The capo sits as high as this where nobody says otherwise: beyond it the strings are short and the sound thin. */
const USUAL_CAPO = 5;
/** Semitones a transpose button is asked for, up or down: half an octave reaches every key. */
const MOST_SET = 6;

/** What a key asks of a reader at the keys, itemised. */
export interface Ease {
  /** Sharps or flats of the signature. */
  readonly accidentals: number;
  readonly blackKeys: readonly NoteName[];
  /** `one black key: B♭`, `white keys only`. */
  readonly words: string;
}

/** How easy a key is to play in: its sharps or flats, and the black keys of its scale by name. */
export function easeOf(key: Key): Ease {
  const blackKeys = scaleOf(key).filter((note) => [1, 3, 6, 8, 10].includes(pitchClassOf(note)));
  const names = listed(blackKeys.map(sayNote));
  return {
    accidentals: Math.abs(signatureOf(key)),
    blackKeys,
    words:
      blackKeys.length === 0
        ? 'white keys only'
        : `${counted(blackKeys.length, 'black key', 'black keys')}: ${names}`,
  };
}

/** The tonics of the open shapes that sound in a mode. */
export function openShapes(mode: Key['mode']): readonly NoteName[] {
  return BRIGHT.includes(mode) ? OPEN_BRIGHT : OPEN_DARK;
}

/** `D`, `E minor`: as people name the key of a song. */
export const say = (key: Key) => (key.mode === 'major' ? sayNote(key.tonic) : sayKey(key));
/** `+2`, `−3`: what a transpose button is set to. */
export const signed = (amount: number): string => (amount > 0 ? `+${amount}` : `−${-amount}`);

function byButton(sounds: Key, plays: Key, amount: number): PlayedKey {
  return {
    by: 'transpose button',
    plays,
    sounds,
    amount,
    words: `play in ${say(plays)}, keyboard set to ${signed(amount)}: it sounds in ${say(sounds)}`,
    reminder: 'Set the keyboard back to 0 after this song.',
  };
}

export function byCapo(sounds: Key, plays: Key, amount: number): PlayedKey {
  return {
    by: 'capo',
    plays,
    sounds,
    amount,
    words: `capo ${amount}: shapes of ${say(plays)}, it sounds in ${say(sounds)}`,
    reminder: 'Take the capo off after this song.',
  };
}

/**
 * The keys that a keyboard with a transpose button can be played in while it sounds in `sounding`, in the same mode,
 * each once with the smaller setting (of −6 and +6 the one up). The easiest first: fewest sharps or flats (`easeOf`
 * itemises it), then the smaller setting, then the one up.
 */
export function buttonChoices(sounding: Key): PlayedKey[] {
  const tonic = pitchClassOf(sounding.tonic);
  const choices = keysToOffer(sounding.mode).flatMap((plays): PlayedKey[] => {
    const up = (tonic - pitchClassOf(plays.tonic) + 12) % 12;
    const amount = up > MOST_SET ? up - 12 : up;
    return amount === 0 ? [] : [byButton(sounding, plays, amount)];
  });
  return choices.sort(
    (a, b) =>
      easeOf(a.plays).accidentals - easeOf(b.plays).accidentals ||
      Math.abs(a.amount) - Math.abs(b.amount) ||
      b.amount - a.amount,
  );
}

/**
 * The open shapes that sound in `sounding` with a capo up to a fret, the lowest fret first. Fret = sounding key less
 * shape, in semitones. Shapes: C, G, D, A and E, where the mode sounds minor A, E and D.
 */
export function capoChoices(sounding: Key, limit: 0 | 5 | 7): PlayedKey[] {
  const tonic = pitchClassOf(sounding.tonic);
  return openShapes(sounding.mode)
    .map((shape) => ({ shape, fret: (tonic - pitchClassOf(shape) + 12) % 12 }))
    .filter(({ fret }) => fret > 0 && fret <= limit)
    .sort((a, b) => a.fret - b.fret)
    .map(({ shape, fret }) => byCapo(sounding, { tonic: shape, mode: sounding.mode }, fret));
}

/** How a role reads in other keys; null: it always reads what sounds. */
function wayOf(role: string): Ways | null {
  return role === 'keys' || role === 'guitar' ? role : null;
}

/**
 * Every other key that this person can read a song in, best first: at the keys by the transpose button where the
 * keyboard has one, on the guitar by capo (missing: up to the fifth fret). Singers, bass and drums always read what
 * sounds.
 */
export function choices(sounding: Key, instruments: Reader, role: string): PlayedKey[] {
  const way = wayOf(role);
  if (way === 'keys') return instruments.transposeButton ? buttonChoices(sounding) : [];
  if (way === 'guitar') return capoChoices(sounding, instruments.capo ?? USUAL_CAPO);
  return [];
}

/**
 * How a person who asks for a tonic (`G`, `Bb`) reads the song; null where that is what sounds, where it is no note, or
 * where the instrument does not allow it. A guitarist may ask for a shape that is not an open one.
 */
export function of(
  sounding: Key,
  tonic: NoteName,
  instruments: Reader,
  role: string,
): PlayedKey | null {
  if (!isNoteName(tonic)) return null;
  const plays = usualSpelling({ tonic, mode: sounding.mode });
  const asked = pitchClassOf(tonic);
  const up = (pitchClassOf(sounding.tonic) - asked + 12) % 12;
  if (up === 0) return null;
  if (wayOf(role) === 'guitar')
    return up <= (instruments.capo ?? USUAL_CAPO) ? byCapo(sounding, plays, up) : null;
  const found = choices(sounding, instruments, role);
  return found.find((each) => pitchClassOf(each.plays.tonic) === asked) ?? null;
}
