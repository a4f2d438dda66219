import { SearchWords, Tunes, type LibraryEntry } from '#music';
import type { ImportLine } from '../../contract/library.ts';
import type { Book } from './book.ts';

type Double = NonNullable<ImportLine['double']>;

const BECAUSE = {
  title: 'has the same title',
  'first line': 'begins with the same line',
  melody: 'has the same melody, perhaps in another key',
} as const;

/** Why a song was left out. */
export function sayDouble({ title, because }: Double): string {
  return `“${title}” ${BECAUSE[because]} and is in the book.`;
}

/** What of a song is held against the others. */
export type Compared = Pick<LibraryEntry, 'title' | 'firstLine' | 'lines' | 'sign'>;

interface Known {
  readonly id: string;
  readonly entry: Compared;
  /** The words of its lines, each once. */
  readonly words: ReadonlySet<string>;
}

const folded = (text: string | null): string => SearchWords.wordsOf(text ?? '').join(' ');

/** Texts of which so much is the same are one text; other words to the same tune have a tenth in common. */
const SAME_WORDS = 0.5;

/** Other words to a tune are another song, and no double. */
function mayBeSameWords(one: ReadonlySet<string>, other: ReadonlySet<string>): boolean {
  if (one.size === 0 || other.size === 0) return true;
  const both = [...one].filter((word) => other.has(word)).length;
  return both / Math.min(one.size, other.size) >= SAME_WORDS;
}

/** What a song is called that nobody gave a title: by the readers of words and of files, and by the editor. */
const MADE_UP = new Set(['a song without words', 'without a title']);
const ARTICLES = new Set(['the', 'a', 'an']);

/** As titles are compared: without an article at either end, `Glory Song, The`; empty: it has none of its own. */
function titleKey(title: string): string {
  const whole = folded(title);
  if (MADE_UP.has(whole)) return '';
  const words = whole.split(' ');
  if (words.length > 1 && ARTICLES.has(words[0] ?? '')) return words.slice(1).join(' ');
  const isTurned = /,\s*\p{L}+\s*$/u.test(title) && ARTICLES.has(words.at(-1) ?? '');
  return words.length > 1 && isTurned ? words.slice(0, -1).join(' ') : whole;
}

/** The words of the songs of a book, which is asked again at every change of one that is written. */
const wordsOf = new WeakMap<Compared, ReadonlySet<string>>();

function knownOf(id: string, entry: Compared): Known {
  const words = wordsOf.get(entry) ?? new Set(entry.lines.flatMap(SearchWords.wordsOf));
  wordsOf.set(entry, words);
  return { id, entry, words };
}

/** Neither its words nor its melody are others; what one of the two does not have says nothing. */
function mayBeSame(one: Known, other: Known): boolean {
  return (
    mayBeSameWords(one.words, other.words) && Tunes.mayBeAlike(one.entry.sign, other.entry.sign)
  );
}

type Table = Map<string, Known[]>;

function put(table: Table, key: string, known: Known): void {
  if (key === '') return;
  const there = table.get(key);
  if (there) there.push(known);
  else table.set(key, [known]);
}

/** Tells whether a song that is brought is in the book already, or was brought before it. */
export class Doubles {
  readonly #titles: Table = new Map();
  readonly #firstLines: Table = new Map();
  readonly #songs: Known[] = [];

  constructor(book: Book) {
    for (const { id, entry } of book.songs.values()) this.add(id, entry);
  }

  add(id: string, entry: Compared): void {
    const known = knownOf(id, entry);
    put(this.#titles, titleKey(entry.title), known);
    put(this.#firstLines, folded(entry.firstLine), known);
    this.#songs.push(known);
  }

  /**
   * By title, else by first line, where words and melody do not speak against it; else by melody in whatever key, if its
   * words may be the same.
   */
  find(entry: Compared): Double | null {
    const brought = knownOf('', entry);
    const say = ({ id, entry: { title } }: Known, because: Double['because']): Double => ({
      id,
      title,
      because,
    });
    const oneOf = (table: Table, key: string): Known | undefined =>
      table.get(key)?.find((known) => mayBeSame(known, brought));
    const byTitle = oneOf(this.#titles, titleKey(entry.title));
    if (byTitle) return say(byTitle, 'title');
    const byLine = oneOf(this.#firstLines, folded(entry.firstLine));
    if (byLine) return say(byLine, 'first line');
    const byTune = this.#songs.find(
      (known) =>
        Tunes.alike(known.entry.sign, entry.sign) && mayBeSameWords(known.words, brought.words),
    );
    return byTune ? say(byTune, 'melody') : null;
  }
}
