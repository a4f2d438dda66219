import { SearchWords, type LibraryEntry } from '#music';
import type { SearchField } from '../../contract/library.ts';
import { FIELD_BITS, ALL_FIELDS, Postings } from './postings.ts';
import { FIELDS, textsOf } from './searched-texts.ts';
import { Vocabulary, type LikeWords } from './vocabulary.ts';
import { END, WordsFound, type IndexedSong, type WordMatch } from './words-found.ts';

/** How much it counts where a word stands. Our own choice. */
const WEIGHTS: Readonly<Record<SearchField, number>> = {
  title: 12,
  'first line': 6,
  tune: 4,
  people: 3,
  theme: 3,
  scripture: 3,
  words: 1,
};
/** The same for every set of fields: the sum. */
const WEIGHT_OF = Int32Array.from({ length: ALL_FIELDS + 1 }, (_, fields) =>
  FIELDS.reduce((sum, field, i) => sum + ((fields >> i) & 1) * WEIGHTS[field], 0),
);
/** How much it counts that a word stands there as it was asked, begins so, or is only nearly it. Our own choice. */
const LIKENESS: readonly (readonly [keyof LikeWords, number])[] = [
  ['same', 10],
  ['begun', 5],
  ['nearly', 3],
];
const bitOf = (field: SearchField): number => 1 << FIELDS.indexOf(field);
const HEADS = bitOf('title') | bitOf('first line');
const ONCE: ReadonlySet<keyof LikeWords> = new Set(['nearly']);
const AGAIN: ReadonlySet<keyof LikeWords> = new Set(['begun', 'nearly']);

/**
 * Finds songs by words. Every word that is asked must stand somewhere in the song: as it is, but for accents, apostrophes
 * and capitals; or with the mistakes that its length allows (`SearchWords.mistakesIn`); the last word may also be only
 * the beginning of one. No word is too common to count.
 *
 * A word of the book has a number and a list of the songs it stands in; a song has a place and its words as numbers. A
 * question then costs a look at each different word of the book and a step for each song that has one of those meant.
 */
export class WordIndex {
  readonly #vocabulary = new Vocabulary();
  /** By the number of the word. */
  readonly #postings: Postings[] = [];
  /** By place; null: the place is free. */
  readonly #songs: (IndexedSong | null)[] = [];
  readonly #places = new Map<string, number>();
  readonly #free: number[] = [];

  put(id: string, entry: LibraryEntry): void {
    this.drop(id);
    const texts = textsOf(entry);
    const words: number[] = [];
    const fieldsOf = new Map<number, number>();
    for (const [i, field] of FIELDS.entries()) {
      for (const text of texts[field]) {
        for (const word of SearchWords.wordsOf(text)) {
          const number = this.#vocabulary.add(word);
          words.push(number);
          fieldsOf.set(number, (fieldsOf.get(number) ?? 0) | (1 << i));
        }
        words.push(END);
      }
    }
    const place = this.#free.pop() ?? this.#songs.length;
    this.#songs[place] = { id, words: Int32Array.from(words) };
    this.#places.set(id, place);
    for (const [number, fields] of fieldsOf) this.#listOf(number).put(place, fields);
  }

  drop(id: string): void {
    const place = this.#places.get(id);
    if (place === undefined) return;
    for (const number of new Set(this.#songs[place]?.words)) {
      if (number !== END) this.#listOf(number).drop(place);
    }
    this.#songs[place] = null;
    this.#places.delete(id);
    this.#free.push(place);
  }

  #listOf(number: number): Postings {
    return (this.#postings[number] ??= new Postings());
  }

  /** In no order. Null: no word is asked, so that every song is meant. */
  find(question: string): WordsFound | null {
    const asked = SearchWords.wordsOf(question);
    const last = asked.at(-1);
    if (last === undefined) return null;
    const words = [...new Set(asked)];
    const meant = words.map((word) => this.#vocabulary.like(word, word === last));
    const like = new Map(words.map((word, i) => [word, meant[i] as LikeWords]));
    // Of a word that also stands before the end, the beginning alone is not the whole of what was typed.
    const near = asked.indexOf(last) < asked.length - 1 ? AGAIN : ONCE;
    return new WordsFound(asked, like, this.#matches(meant, near));
  }

  /** The songs that have a word of each. @param near what does not count as the word that was typed */
  #matches(meant: readonly LikeWords[], near: ReadonlySet<keyof LikeWords>): WordMatch[] {
    const size = this.#songs.length;
    /** How many of the words that were asked stand in the song of a place, from the first without a gap. */
    const has = new Uint8Array(size);
    const isNear = new Uint8Array(size);
    const score = new Int32Array(size);
    const best = new Int32Array(size);
    /** Fields in which one word that was asked stands, and in which all of them do. */
    const fields = new Uint8Array(size);
    const common = new Uint8Array(size).fill(ALL_FIELDS);
    for (const [i, like] of meant.entries()) {
      best.fill(0);
      fields.fill(0);
      for (const [kind, counts] of LIKENESS) {
        const isNearOnly = near.has(kind);
        for (const number of like[kind]) {
          const { list, length } = this.#listOf(number);
          for (let at = 0; at < length; at += 1) {
            const posting = list[at] as number;
            const place = posting >> FIELD_BITS;
            const there = has[place] as number;
            if (there < i) continue;
            if (there === i) {
              has[place] = i + 1;
              if (isNearOnly) isNear[place] = 1;
            }
            if (kind !== 'nearly')
              fields[place] = (fields[place] as number) | (posting & ALL_FIELDS);
            const value = counts * (WEIGHT_OF[posting & ALL_FIELDS] as number);
            if (value > (best[place] as number)) best[place] = value;
          }
        }
      }
      for (let place = 0; place < size; place += 1) {
        score[place] = (score[place] as number) + (best[place] as number);
        common[place] = (common[place] as number) & (fields[place] as number);
      }
    }
    const matches: WordMatch[] = [];
    for (const [place, song] of this.#songs.entries()) {
      if (song === null || has[place] !== meant.length) continue;
      const inHeads = ((common[place] as number) & HEADS) !== 0;
      matches.push({ song, score: score[place] as number, isExact: isNear[place] === 0, inHeads });
    }
    return matches;
  }
}
