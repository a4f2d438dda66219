import type { Chord } from '../../pitch/chord.ts';
import { placeIn, type Token } from './columns.ts';
import type { PlacedChord } from './line.ts';

/** A stretch of a line: what is sung to one chord, or from one word to the next. */
export interface Piece {
  /** Empty: a chord on a held note or a rest. */
  readonly text: string;
  /** The word goes on in the next piece. */
  readonly goesOn: boolean;
  /** Missing: the chord before goes on; null: no chord (N.C.). */
  readonly chord?: Chord | null;
}

/** A line begins no syllable before its first vowel: a chord over “gr” of “grace” belongs to the whole word. */
const NO_VOWEL = /^[\p{P}bcdfghjklmnpqrstvwxz]*$/iu;
/** As in ABC 2.1, section 5.1, and as people type: the syllable before it is held. */
const HELD = '_';

/** A syllable with its hyphen, drawn apart from the next so that a chord has room: `re-   lieved` (common practice). */
const DRAWN_APART = /^(.*[\p{L}\p{M}'’])-$/su;
/** A dash is typed with one space after it; a word that goes on has a small letter, or none of both has. */
const goesOnIn = (before: string, after: string): boolean =>
  /^\p{Ll}/u.test(after) || (/^\p{Lu}/u.test(after) && before === before.toUpperCase());

/** Words that were drawn apart as one each, held over the gap. */
function drawnTogether(words: readonly Token[]): Token[] {
  const joined: Token[] = [];
  for (const word of words) {
    const before = joined.at(-1);
    const start = before && DRAWN_APART.exec(before.text)?.[1];
    const gap = before ? word.column - before.end : 0;
    if (before && start !== undefined && gap >= 2 && goesOnIn(start, word.text)) {
      const text = start + HELD.repeat(gap + 1) + word.text;
      joined[joined.length - 1] = { ...before, text, end: word.end };
    } else joined.push(word);
  }
  return joined;
}

interface Cut {
  readonly place: number;
  readonly chord: Chord | null;
}

/** Where a chord falls: into a word at a place in its text, or into the gap before a word. */
interface Fallen {
  readonly word: number;
  readonly place: number | null;
}

/**
 * Chords laid over the words of a line by their columns. A chord over a letter belongs to the syllable that begins
 * there; over the consonants at the beginning of a word, or over the one space before it, to the word; over a wider
 * gap, over an underscore, over the gap of a word that is drawn apart (`re-   lieved`), over the stop after a word or after the last word it stands by itself: on a held note or a rest.
 * @param inline chords typed between the words themselves: each belongs to the word after it
 */
export function lay(
  sung: readonly Token[],
  over: readonly PlacedChord[],
  inline: readonly PlacedChord[] = [],
): Piece[] {
  const typed = [...sung].sort((a, b) => a.column - b.column);
  const words = over.length > 0 ? drawnTogether(typed) : typed;
  const placed = [
    ...over.map(({ token, chord }) => ({ column: token.column, chord, isInline: false })),
    ...inline.map(({ token, chord }) => ({ column: token.column, chord, isInline: true })),
  ].sort((a, b) => a.column - b.column);
  const gaps: (Chord | null)[][] = Array.from({ length: words.length + 1 }, () => []);
  const cuts: Cut[][] = words.map(() => []);
  let next = 0;
  for (const { column, chord, isInline } of placed) {
    while (next < words.length && (words[next] as Token).end <= column) next += 1;
    const { word, place } = fall(
      words[next],
      next,
      column,
      isInline,
      (cuts[next]?.length ?? 0) > 0,
    );
    const own = cuts[word];
    const before = own?.at(-1);
    if (place === null || !own) gaps[word]?.push(chord);
    else if (before?.place !== place) own.push({ place, chord });
    else if (place === 0) {
      // Two chords for one beginning: the earlier one stands before the word.
      gaps[word]?.push(before.chord);
      own[own.length - 1] = { place, chord };
    } else own.push({ place, chord });
  }
  return [
    ...words.flatMap((word, i) => [...held(gaps[i] ?? []), ...split(word.text, cuts[i] ?? [])]),
    ...held(gaps[words.length] ?? []),
  ];
}

function fall(
  word: Token | undefined,
  index: number,
  column: number,
  isInline: boolean,
  hasChord: boolean,
): Fallen {
  if (!word) return { word: index, place: null };
  if (column < word.column) {
    return { word: index, place: isInline || column === word.column - 1 ? 0 : null };
  }
  const place = placeIn(word, column);
  if (place > 0 && /^\p{P}+$/u.test(word.text.slice(place).replaceAll(HELD, 'x'))) {
    return { word: index + 1, place: null };
  }
  const begins = NO_VOWEL.test(word.text.slice(0, place)) && word.text.charAt(place) !== HELD;
  // “ht” of “light” begins no syllable either: the chord is meant for the word.
  const ends = !hasChord && NO_VOWEL.test(word.text.slice(place));
  return { word: index, place: begins || ends ? 0 : place };
}

function held(chords: readonly (Chord | null)[]): Piece[] {
  return chords.map((chord) => ({ text: '', goesOn: false, chord }));
}

/** A word in its pieces; underscores only hold, they are no letters. A chord over some has no letters under it. */
function split(word: string, cuts: readonly Cut[]): Piece[] {
  const starts = cuts[0]?.place === 0 ? [] : [{ place: 0 }];
  const parts: { readonly place: number; readonly chord?: Chord | null }[] = [...starts];
  for (const [i, cut] of cuts.entries()) {
    parts.push(cut);
    const holds = /^_+/.exec(word.slice(cut.place, cuts[i + 1]?.place))?.[0].length ?? 0;
    if (holds > 0) parts.push({ place: cut.place + holds });
  }
  const texts = parts.map(({ place }, i) =>
    word.slice(place, parts[i + 1]?.place).replaceAll(HELD, ''),
  );
  const last = texts.findLastIndex((text) => text !== '');
  return parts.flatMap(({ chord }, i): Piece[] => {
    const text = texts[i] ?? '';
    if (text === '' && chord === undefined) return [];
    return [{ text, goesOn: i < last, ...(chord !== undefined && { chord }) }];
  });
}
