import { SearchWords, type LibraryEntry } from '#music';
import MiniSearch, { type Query } from 'minisearch';
import type { SearchField } from '../../contract/library.ts';
import { foldedSong, type FoldedSong } from './nearness.ts';
import { FIELDS, textsOf } from './searched-texts.ts';

/** The fields a word is looked for in, the best place first, with how much a find there counts. Our own choice. */
const WEIGHTS: Readonly<Record<SearchField, number>> = {
  title: 12,
  'first line': 6,
  tune: 4,
  people: 3,
  theme: 3,
  scripture: 3,
  words: 1,
};
interface Document extends Readonly<Record<SearchField, string>> {
  readonly id: string;
}

function documentOf(id: string, entry: LibraryEntry): Document {
  const texts = textsOf(entry);
  const joined = FIELDS.map((field): [SearchField, string] => [field, texts[field].join('\n')]);
  return { id, ...(Object.fromEntries(joined) as Record<SearchField, string>) };
}

/** A song in which every word that was asked stands. */
export interface WordMatch {
  readonly id: string;
  /** Higher is better. */
  readonly score: number;
  /** How many words were asked. */
  readonly asked: number;
  /** The words that were found, as they stand there, with the fields they stand in. */
  readonly found: Readonly<Record<string, readonly string[]>>;
}

/**
 * Finds songs by words. Every word that is asked must stand somewhere in the song: as it is, but for accents, apostrophes
 * and capitals; or with the mistakes that its length allows (`SearchWords.mistakesIn`); the last word may also be only
 * the beginning of one. No word is too common to count.
 */
export class WordIndex {
  readonly #index = new MiniSearch<Document>({
    fields: [...FIELDS],
    tokenize: SearchWords.wordsOf,
    processTerm: (word) => word,
    // A changed song is taken out and put in anew; what it leaves behind is cleared away while nobody waits.
    autoVacuum: { minDirtCount: 50, minDirtFactor: 0.1, batchSize: 1000, batchWait: 10 },
  });

  readonly #folded = new Map<string, FoldedSong>();

  put(id: string, entry: LibraryEntry): void {
    this.drop(id);
    this.#index.add(documentOf(id, entry));
    this.#folded.set(id, foldedSong(entry));
  }

  drop(id: string): void {
    this.#folded.delete(id);
    if (this.#index.has(id)) this.#index.discard(id);
  }

  /** The texts of a song as they are compared; null: it is not in the book. */
  folded(id: string): FoldedSong | null {
    return this.#folded.get(id) ?? null;
  }

  /** The best score first. Null: no word is asked, so that every song is meant. */
  find(question: string): WordMatch[] | null {
    const words = [...new Set(SearchWords.wordsOf(question))];
    const last = SearchWords.wordsOf(question).at(-1);
    if (last === undefined) return null;
    const queries = words.map((word): Query => ({
      queries: [word],
      prefix: word === last,
      fuzzy: SearchWords.mistakesIn(word),
    }));
    const results = this.#index.search(
      { combineWith: 'AND', queries },
      { boost: WEIGHTS, weights: { fuzzy: 0.3, prefix: 0.5 } },
    );
    const asked = words.length;
    return results.map(({ id, score, match }) => ({ id: String(id), score, asked, found: match }));
  }
}
