import type { ChordOver, WordsLine } from '#music';

/** A stretch of a word under one chord, or under none. */
export interface Fragment {
  readonly text: string;
  readonly chord: ChordOver | null;
  /** The words up to the next chord are wide enough: the chord takes no room of its own. */
  readonly hangs: boolean;
  /** A wide gap parts the word here: a hyphen joins it. */
  readonly hyphen: boolean;
  /** No letters: the word before is held, by a line from it. */
  readonly held: boolean;
  /** Chords alone: a bar line before it. */
  readonly bar: boolean;
  /** Chords alone: beats after the first. */
  readonly dots: number;
}

/** Fragments that never part at the end of a line. */
export type Word = readonly Fragment[];

const NARROW = new Set("iljtfrI.,'!;:|()[]’‘-");
const WIDE = new Set('mwMWÆæŒœ—');

/**
 * About how wide words are at least, in the size of the words. Rather too little than too much; the widths of
 * Source Serif 4 lie above these.
 */
export function leastWidth(text: string): number {
  let width = 0;
  for (const sign of text) {
    if (sign === ' ') width += 0.2;
    else if (NARROW.has(sign)) width += 0.24;
    else if (WIDE.has(sign)) width += 0.72;
    else width += sign === sign.toLowerCase() ? 0.44 : 0.54;
  }
  return width;
}

/** Size of a chord, and of what it sounds beside a shape, against the words. */
const CHORD = 0.82;
const SOUNDS = 0.6;
/** Least room between two chords, in the size of the words. */
const APART = 0.35;
/** A gap that a chord makes in a word is its own up to here, in the size of the words; a wider one would part the word. */
const GAP = 1;

/** About how wide a chord is at most, with the room after it, in the size of the words. */
export function mostWidth(chord: ChordOver): number {
  const signs = (text: string): number => {
    let width = 0;
    for (const sign of text) width += /[A-Z0-9]/.test(sign) ? 0.66 : 0.58;
    return width;
  };
  const sounds = chord.sounds === null ? 0 : SOUNDS * (signs(chord.sounds) + 0.9);
  const name = chord.again ? `(${chord.name})` : chord.name;
  return CHORD * signs(name) + sounds + APART;
}

/** Words from here to the next chord. */
function roomFrom(pieces: WordsLine['pieces'], index: number): number {
  let text = pieces[index]?.text ?? '';
  for (let next = index + 1; next < pieces.length && !pieces[next]?.chord; next += 1) {
    text += (pieces[next - 1]?.goesOn ? '' : ' ') + (pieces[next]?.text ?? '');
  }
  return leastWidth(text.trim());
}

/** A line as words that can part from each other only between them, each chord with the letters under it; chords alone by bars. */
export function wordsOf(line: WordsLine): Word[] {
  const words: Fragment[][] = [];
  const inBars = line.pieces.some(({ bar, beats }) => bar === true || beats !== undefined);
  let joined = false;
  line.pieces.forEach((piece, index) => {
    const { chord, text, goesOn } = piece;
    const parts = text.trim().split(/\s+/);
    // A chord on a held note stands before what follows, never over it.
    const hangs = chord !== null && text !== '' && roomFrom(line.pieces, index) >= mostWidth(chord);
    const isHeld = piece.held === true && !joined;
    parts.forEach((part, place) => {
      const last = place === parts.length - 1;
      const own = place === 0 ? chord : null;
      if (part === '' && own === null) return;
      const gap = own !== null && !hangs ? mostWidth(own) - leastWidth(part) : 0;
      const ends = part !== '' && !part.endsWith('-') && line.pieces[index + 1]?.text !== '';
      const fragment: Fragment = {
        text: part,
        chord: own,
        hangs: own !== null && hangs,
        hyphen: goesOn && last && (part === '' ? joined : gap > GAP && ends),
        held: isHeld,
        bar: piece.bar === true,
        dots: (piece.beats ?? 1) - 1,
      };
      const word = words.at(-1);
      const staysWith = joined || isHeld || (inBars && !piece.bar);
      if (place === 0 && staysWith && word) word.push(fragment);
      else words.push([fragment]);
    });
    joined = goesOn;
  });
  return words;
}
