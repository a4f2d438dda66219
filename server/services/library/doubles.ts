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

interface Known {
  readonly id: string;
  readonly entry: LibraryEntry;
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

/** Tells whether a song that is brought is in the book already, or was brought before it. */
export class Doubles {
  readonly #titles = new Map<string, Known>();
  readonly #firstLines = new Map<string, Known>();
  readonly #songs: Known[] = [];

  constructor(book: Book) {
    for (const { id, entry } of book.songs.values()) this.add(id, entry);
  }

  add(id: string, entry: LibraryEntry): void {
    const words = new Set(entry.lines.flatMap(SearchWords.wordsOf));
    const known = { id, entry, words };
    const [title, line] = [folded(entry.title), folded(entry.firstLine)];
    if (title !== '') this.#titles.set(title, known);
    if (line !== '') this.#firstLines.set(line, known);
    this.#songs.push(known);
  }

  /** By title, else by first line, else by melody in whatever key, if its words may be the same. */
  find(entry: LibraryEntry): Double | null {
    const say = ({ id, entry: { title } }: Known, because: Double['because']): Double => ({
      id,
      title,
      because,
    });
    const byTitle = this.#titles.get(folded(entry.title));
    if (byTitle) return say(byTitle, 'title');
    const byLine = this.#firstLines.get(folded(entry.firstLine));
    if (byLine) return say(byLine, 'first line');
    const words = new Set(entry.lines.flatMap(SearchWords.wordsOf));
    const byTune = this.#songs.find(
      (known) => Tunes.alike(known.entry.sign, entry.sign) && mayBeSameWords(known.words, words),
    );
    return byTune ? say(byTune, 'melody') : null;
  }
}
