import type { LibraryEntry } from '#music';
import type { LibrarySong } from '../../contract/library.ts';
import { FIELDS, textsOf } from './searched-texts.ts';
import type { LikeWords } from './vocabulary.ts';

/** Stands behind the last word of each text. */
export const END = -1;

/** The searched texts of a song (`textsOf`, field after field) as one list: their words by number, `END` behind each text. */
export interface IndexedSong {
  readonly id: string;
  readonly words: Int32Array;
}

/** A song in which every word that was asked stands. */
export interface WordMatch {
  readonly song: IndexedSong;
  /** How many of the words stand in how good a field; higher is better. */
  readonly score: number;
  /** Each word stands there as it was asked; the last may be begun. */
  readonly isExact: boolean;
  /** All of them stand so in its titles, or in its first line; where they do not, no phrase of them does. */
  readonly inHeads: boolean;
}

const MOST_PLACES = 3;

/** What a question finds, and where in a song it is found. */
export class WordsFound {
  readonly matches: readonly WordMatch[];
  /** The words of the question but the last, in order, by number; null: one of them stands nowhere. */
  readonly #begin: Int32Array | null;
  /** The numbers that the last may be. */
  readonly #end: ReadonlySet<number>;
  readonly #meant: readonly LikeWords[];
  #all: ReadonlySet<number> | null = null;

  constructor(
    asked: readonly string[],
    like: ReadonlyMap<string, LikeWords>,
    matches: readonly WordMatch[],
  ) {
    this.matches = matches;
    this.#meant = [...like.values()];
    const begin = asked.slice(0, -1).flatMap((word) => like.get(word)?.same ?? []);
    this.#begin = begin.length === asked.length - 1 ? Int32Array.from(begin) : null;
    const { same = [], begun = [] } = like.get(asked.at(-1) ?? '') ?? {};
    this.#end = new Set([...same, ...begun]);
  }

  /** Whether one text of the song has the words that were asked, two at least, one after the other, the last perhaps begun. */
  hasPhrase({ words }: IndexedSong): boolean {
    const begin = this.#begin;
    if (!begin) return false;
    const first = begin[0];
    const last = words.length - begin.length;
    for (let at = 0; at < last; at += 1) {
      if (words[at] === first && this.#goesOn(words, at, begin)) return true;
    }
    return false;
  }

  /** No number of a word is `END`, so that no phrase reaches from one text into the next. */
  #goesOn(words: Int32Array, at: number, begin: Int32Array): boolean {
    for (let i = 1; i < begin.length; i += 1) {
      if (words[at + i] !== begin[i]) return false;
    }
    return this.#end.has(words[at + begin.length] ?? END);
  }

  /** Where the words stand, the best field first, each field once with its best text, each text once. */
  placesIn({ words }: IndexedSong, entry: LibraryEntry): LibrarySong['found'] {
    const all = (this.#all ??= new Set(
      this.#meant.flatMap(({ same, begun, nearly }) => [...same, ...begun, ...nearly]),
    ));
    const texts = textsOf(entry);
    const places: LibrarySong['found'] = [];
    let from = 0;
    for (const field of FIELDS) {
      let [best, most]: [string | null, number] = [null, 0];
      for (const text of texts[field]) {
        const end = words.indexOf(END, from);
        // The first text with all words that were asked, or with the most of them.
        if (most < this.#meant.length) {
          const count = new Set(words.subarray(from, end).filter((word) => all.has(word))).size;
          if (count > most) [best, most] = [text, count];
        }
        from = end + 1;
      }
      if (best === null || places.some(({ text }) => text === best)) continue;
      places.push({ field, text: best });
      if (places.length === MOST_PLACES) break;
    }
    return places;
  }
}
