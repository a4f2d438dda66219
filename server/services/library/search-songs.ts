import { SearchWords, type LibraryEntry } from '#music';
import type { SearchAnswer, SearchQueryRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import type { Book, BookSong } from './book.ts';
import { filtersOf, fitOf } from './filters.ts';
import { librarySong, sungUntil, type Sung } from './library-song.ts';
import type { WordMatch } from './word-index.ts';

interface Candidate {
  readonly song: BookSong;
  readonly match: WordMatch | null;
  /** How near its title or first line is to what was asked; 0 is nearest. */
  readonly near: number;
}

const folded = (text: string): string => SearchWords.wordsOf(text).join(' ');

/** Titles and first lines as they are compared, kept as long as the song stays as it is. */
const heads = new WeakMap<LibraryEntry, { readonly title: string; readonly first: string }>();
function headOf(entry: LibraryEntry): { readonly title: string; readonly first: string } {
  const known = heads.get(entry);
  if (known) return known;
  const head = { title: folded(entry.title), first: folded(entry.firstLine ?? '') };
  heads.set(entry, head);
  return head;
}

/** Whole titles before beginnings of titles, these before beginnings of first lines, and all before what merely has the words. */
function nearness({ entry }: BookSong, question: string): number {
  if (question === '') return 0;
  const { title, first } = headOf(entry);
  if (title === question) return 0;
  if (title.startsWith(question)) return 1;
  if (first === question) return 2;
  return first.startsWith(question) ? 3 : 4;
}

type Compare = (a: Candidate, b: Candidate) => number;

const collator = new Intl.Collator('en', { sensitivity: 'base', numeric: true });
const byTitle: Compare = (a, b) =>
  collator.compare(a.song.entry.title, b.song.entry.title) || (a.song.id < b.song.id ? -1 : 1);

const byBest: Compare = (a, b) =>
  a.near - b.near || (b.match?.score ?? 0) - (a.match?.score ?? 0) || byTitle(a, b);

/** What was never sung has rested longest. */
function byRest(sungOf: (song: BookSong) => Sung): Compare {
  const last = ({ song }: Candidate): string => sungOf(song).last ?? '';
  return (a, b) => {
    const [one, other] = [last(a), last(b)];
    return one === other ? byTitle(a, b) : one < other ? -1 : 1;
  };
}

/** Of a book that is up to date. */
export function searchBook(book: Book, query: SearchQueryRead, now: Date): SearchAnswer {
  const filters = filtersOf(query);
  const matches = book.words.find(query.q);
  const known = new Map<string, Sung>();
  const sungOf = ({ id }: BookSong): Sung => {
    const sung = known.get(id) ?? sungUntil(book.sungDays(id), now);
    known.set(id, sung);
    return sung;
  };
  const asked = matches
    ? matches.flatMap((match) => {
        const song = book.songs.get(match.id);
        return song ? [{ song, match }] : [];
      })
    : [...book.songs.values()].map((song) => ({ song, match: null }));
  const question = folded(query.q);
  const candidates = asked
    .filter(({ song }) => filters.every((holds) => holds(song, sungOf)))
    .map(({ song, match }): Candidate => ({ song, match, near: nearness(song, question) }));
  const order = { best: byBest, title: byTitle, rested: byRest(sungOf) }[query.order];
  const page = candidates.sort(order).slice(query.from, query.from + query.most);
  return {
    songs: page.map(({ song, match }) =>
      librarySong(song, sungOf(song), match, fitOf(song, query)),
    ),
    count: candidates.length,
    all: book.songs.size,
  };
}

export async function searchSongs(
  store: TeamStore,
  book: Book,
  query: SearchQueryRead,
): Promise<SearchAnswer> {
  await book.update(store);
  return searchBook(book, query, store.surroundings.now());
}
