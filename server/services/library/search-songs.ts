import { SearchWords } from '#music';
import type { SearchAnswer, SearchQueryRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import type { Book, BookSong } from './book.ts';
import { filtersOf, fitOf } from './filters.ts';
import { librarySong, sungUntil, type Sung } from './library-song.ts';
import type { WordMatch } from './word-index.ts';

interface Candidate {
  readonly song: BookSong;
  readonly sung: Sung;
  readonly match: WordMatch | null;
}

const folded = (text: string): string => SearchWords.wordsOf(text).join(' ');

/** Whole titles before beginnings of titles, these before beginnings of first lines, and all before what merely has the words. */
function nearness({ song: { entry } }: Candidate, question: string): number {
  const title = folded(entry.title);
  if (title === question) return 0;
  if (title.startsWith(question)) return 1;
  const first = folded(entry.firstLine ?? '');
  if (first === question) return 2;
  return first.startsWith(question) ? 3 : 4;
}

type Compare = (a: Candidate, b: Candidate) => number;

const collator = new Intl.Collator('en', { sensitivity: 'base', numeric: true });
const byTitle: Compare = (a, b) =>
  collator.compare(a.song.entry.title, b.song.entry.title) || (a.song.id < b.song.id ? -1 : 1);

function byBest(question: string, candidates: readonly Candidate[]): Compare {
  if (question === '') return byTitle;
  const near = new Map(candidates.map((each) => [each, nearness(each, question)]));
  return (a, b) =>
    (near.get(a) ?? 0) - (near.get(b) ?? 0) ||
    (b.match?.score ?? 0) - (a.match?.score ?? 0) ||
    byTitle(a, b);
}

/** What was never sung has rested longest. */
const byRest: Compare = (a, b) =>
  (a.sung.last ?? '').localeCompare(b.sung.last ?? '') || byTitle(a, b);

/** Of a book that is up to date. */
export function searchBook(book: Book, query: SearchQueryRead, now: Date): SearchAnswer {
  const filters = filtersOf(query);
  const matches = book.words.find(query.q);
  const sungOf = ({ id }: BookSong): Sung => sungUntil(book.sungDays(id), now);
  const asked = matches
    ? matches.flatMap((match) => {
        const song = book.songs.get(match.id);
        return song ? [{ song, match }] : [];
      })
    : [...book.songs.values()].map((song) => ({ song, match: null }));
  const candidates = asked
    .map(({ song, match }): Candidate => ({ song, match, sung: sungOf(song) }))
    .filter(({ song, sung }) => filters.every((holds) => holds(song, sung)));
  const order = {
    best: () => byBest(folded(query.q), candidates),
    title: () => byTitle,
    rested: () => byRest,
  }[query.order]();
  const page = candidates.sort(order).slice(query.from, query.from + query.most);
  return {
    songs: page.map(({ song, sung, match }) => librarySong(song, sung, match, fitOf(song, query))),
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
