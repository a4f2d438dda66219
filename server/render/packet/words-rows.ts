import type { ChordOver, WordsLine } from '#music';
import type { Ink, Style } from './ink.ts';

/** A stretch of text that stands at a place of its row, with the chord over its first letter. */
export interface Placed {
  readonly x: number;
  readonly text: string;
  readonly chord: ChordOver | null;
}

/** Against the size of the words: chords, what they sound beside a shape, the least room between two of them. */
export const CHORD = 0.82;
const SOUNDS = 0.6;
const APART = 0.35;
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

export function chordWidth(ink: Ink, chord: ChordOver, size: number): number {
  const [texts, styles] = [chordTexts(chord), chordStyles(chord, size)];
  return ink.width(texts.name, styles.name) + ink.width(texts.sounds, styles.sounds);
}

interface Fragment {
  readonly text: string;
  readonly chord: ChordOver | null;
}

/** A line as words that never part, each of fragments with their chords. */
export function wordsOf({ pieces }: WordsLine): Fragment[][] {
  const words: Fragment[][] = [];
  let joined = false;
  for (const { chord, text, goesOn } of pieces) {
    text
      .trim()
      .split(/\s+/u)
      .forEach((part, place) => {
        const own = place === 0 ? chord : null;
        if (part === '' && own === null) return;
        const last = words.at(-1);
        if (place === 0 && joined && last) last.push({ text: part, chord: own });
        else words.push([{ text: part, chord: own }]);
      });
    joined = goesOn;
  }
  return words;
}

/** A word from its left end; where a chord needs more room than its letters, the next part of the word moves away. */
function setWord(
  ink: Ink,
  word: readonly Fragment[],
  from: { readonly x: number; readonly free: number },
  style: Style,
): { placed: Placed[]; x: number; free: number } {
  const placed: Placed[] = [];
  let { x, free } = from;
  for (const { text, chord } of word) {
    if (chord && x < free) {
      const last = placed.at(-1);
      if (last && last.text !== '' && !last.text.endsWith('-')) {
        placed[placed.length - 1] = { ...last, text: `${last.text}-` };
        x += ink.width('-', style);
      }
      x = Math.max(x, free);
    }
    placed.push({ x, text, chord });
    if (chord) free = x + chordWidth(ink, chord, style.size) + APART * style.size;
    x += ink.width(text, style);
  }
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
