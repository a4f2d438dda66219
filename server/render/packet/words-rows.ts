import type { ChordOver, WordsLine } from '#music';
import type { Ink, Style } from './ink.ts';

/** A stretch of text that stands at a place of its row, with the chord over its first letter. */
export interface Placed {
  readonly x: number;
  readonly text: string;
  readonly chord: ChordOver | null;
  /** What stands behind the chord in its row: dots of the beats it goes on. */
  readonly beats: string;
  /** A bar line before it, in the row of chords. */
  readonly bar: boolean;
  /** A line from here, so wide, on which the word before is held. */
  readonly held: number;
}

/** Against the size of the words: chords, what they sound beside a shape, the least room between two of them. */
export const CHORD = 0.82;
const SOUNDS = 0.6;
const APART = 0.35;
/** The same inside a word, which should stay one. */
const INSIDE = 0.2;
/** A gap that a chord makes in a word is its own up to here; a wider one would part the word. */
const GAP = 0.6;
/** A bar line and the room after it; the room between two chords of a bar. */
export const BAR = 0.5;
/** A line that goes on below is set in. */
export const HANGING = 1.5;

/** How a chord is set over words of a size. */
export function chordStyles({ again }: ChordOver, size: number): { name: Style; sounds: Style } {
  const colour = again ? ('faint' as const) : ('ink' as const);
  return {
    name: { face: 'bold', size: size * CHORD, colour },
    sounds: { face: 'sans', size: size * SOUNDS, colour: 'faint' },
  };
}

/** The name, and what it sounds where that is another; one pair of parentheses is enough. */
export function chordTexts({ name, sounds, again }: ChordOver): { name: string; sounds: string } {
  if (again) return { name: sounds === null ? `(${name})` : `(${name} `, sounds: sounds === null ? '' : `${sounds})` }; // prettier-ignore
  return { name, sounds: sounds === null ? '' : ` (${sounds})` };
}

/** Dots and bar lines beside chords. */
export const beatStyle = (size: number): Style => ({
  face: 'sans',
  size: size * CHORD,
});

export function chordWidth(ink: Ink, chord: ChordOver, size: number): number {
  const [texts, styles] = [chordTexts(chord), chordStyles(chord, size)];
  return ink.width(texts.name, styles.name) + ink.width(texts.sounds, styles.sounds);
}

interface Fragment {
  readonly text: string;
  readonly chord: ChordOver | null;
  /** The word before is held to here. */
  readonly held: boolean;
  readonly bar: boolean;
  readonly beats: string;
}

/** A line as words that never part, each of fragments with their chords; chords alone by bars. */
export function wordsOf({ pieces }: WordsLine): Fragment[][] {
  const words: Fragment[][] = [];
  const inBars = pieces.some(({ bar, beats }) => bar === true || beats !== undefined);
  let joined = false;
  for (const { chord, text, goesOn, held, bar, beats } of pieces) {
    text
      .trim()
      .split(/\s+/u)
      .forEach((part, place) => {
        const own = place === 0 ? chord : null;
        if (part === '' && own === null) return;
        const last = words.at(-1);
        const isHeld = held === true && !joined;
        const fragment: Fragment = {
          text: part,
          chord: own,
          held: isHeld,
          bar: bar === true,
          beats: ' ·'.repeat((beats ?? 1) - 1),
        };
        const staysWith = joined || isHeld || (inBars && bar !== true);
        if (place === 0 && staysWith && last) last.push(fragment);
        else words.push([fragment]);
      });
    joined = goesOn;
  }
  return words;
}

/**
 * A word from its left end; where a chord needs more room than its letters, the next part of the word moves away. A chord
 * on a held note takes its own room: what is sung next comes after it.
 */
function setWord(
  ink: Ink,
  word: readonly Fragment[],
  from: { readonly x: number; readonly free: number },
  style: Style,
): { placed: Placed[]; x: number; free: number } {
  const placed: Placed[] = [];
  const { size } = style;
  let { x, free } = from;
  word.forEach(({ text, chord, held, bar, beats }, place) => {
    if (held && place > 0) x += 0.15 * size;
    if (bar) x = Math.max(x, free) + BAR * size;
    const last = placed.at(-1);
    const isOpen = last !== undefined && last.text !== '' && !last.text.endsWith('-') && !held;
    if (isOpen && chord && (text === '' || free - x > (GAP + APART - INSIDE) * size)) {
      placed[placed.length - 1] = { ...last, text: `${last.text}-` };
      x += ink.width('-', style);
    }
    if (chord) x = Math.max(x, text !== '' && place > 0 ? free - (APART - INSIDE) * size : free);
    const over = chord ? chordWidth(ink, chord, size) : 0;
    placed.push({ x, text, chord, beats, bar, held: held ? over : 0 });
    if (chord) free = x + over + ink.width(beats, beatStyle(size)) + APART * size;
    x += ink.width(text, style);
    if (text === '') x = Math.max(x, free);
  });
  return { placed, x, free };
}

/**
 * A line of words with chords in rows that are no wider than a room: each chord over its letter, no two touching, words
 * whole; rows after the first are set in.
 */
export function rowsOf(ink: Ink, line: WordsLine, room: number, style: Style): Placed[][] {
  const rows: Placed[][] = [[]];
  const space = ink.width(' ', style);
  let at = { x: 0, free: 0 };
  for (const word of wordsOf(line)) {
    const isFirst = (rows.at(-1) ?? []).length === 0;
    let set = setWord(ink, word, { x: isFirst ? at.x : at.x + space, free: at.free }, style);
    if (!isFirst && Math.max(set.x, set.free - APART * style.size) > room) {
      rows.push([]);
      set = setWord(ink, word, { x: HANGING * style.size, free: 0 }, style);
    }
    rows.at(-1)?.push(...set.placed);
    at = { x: set.x, free: set.free };
  }
  return rows;
}
