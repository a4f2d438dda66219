import type { SearchAnswer, SearchQueryRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import { byFiling, type Book, type BookSong, type FiledSong } from './book.ts';
import { filtersOf, fittingFor } from './filters.ts';
import { firstOf } from './first-of.ts';
import { librarySong, sungUntil, type Sung } from './library-song.ts';
import { nearnessTo, RUNGS } from './nearness.ts';
import type { WordMatch, WordsFound } from './words-found.ts';

interface Candidate {
  readonly song: FiledSong;
  readonly match: WordMatch | null;
}

type Compare = (a: Candidate, b: Candidate) => number;

const byTitle: Compare = (a, b) => byFiling(a.song, b.song);
const byScore: Compare = (a, b) => (b.match?.score ?? 0) - (a.match?.score ?? 0) || byTitle(a, b);

/** The best so many, by nearness (`nearnessTo`), then by how many words stand in how good a field, then by title. */
function best(
  question: string,
  words: WordsFound | null,
  candidates: readonly Candidate[],
  most: number,
): Candidate[] {
  const nearness = nearnessTo(question);
  const rungs = Array.from({ length: RUNGS }, (): Candidate[] => []);
  const others: Candidate[] = [];
  for (const candidate of candidates) {
    const { song, match } = candidate;
    const rung = match?.inHeads === false ? null : nearness.ofHeads(song.heads);
    if (rung === null) others.push(candidate);
    else rungs[rung]?.push(candidate);
  }
  // What lies behind the page is neither looked through nor put in order.
  if (words && candidates.length - others.length < most) {
    for (const other of others) {
      const { match } = other;
      if (!match) continue;
      const { isExact, song } = match;
      const rung = nearness.ofLines({ isExact, hasPhrase: () => words.hasPhrase(song) });
      rungs[rung]?.push(other);
    }
  }
  const found: Candidate[] = [];
  for (const rung of rungs) found.push(...firstOf(rung, byScore, most - found.length));
  return found;
}

/** What was never sung has rested longest. */
function byRest(sungOf: (song: FiledSong) => Sung): Compare {
  const last = ({ song }: Candidate): string => sungOf(song).last ?? '';
  return (a, b) => {
    const [one, other] = [last(a), last(b)];
    return one === other ? byTitle(a, b) : one < other ? -1 : 1;
  };
}

/** Of a book that is up to date. */
export function searchBook(book: Book, query: SearchQueryRead, now: Date): SearchAnswer {
  const fitOf = fittingFor(query);
  const filters = filtersOf(query, fitOf);
  const words = book.words.find(query.q);
  const known = new Map<string, Sung>();
  const sungOf = ({ id }: BookSong): Sung => {
    const sung = known.get(id) ?? sungUntil(book.sungDays(id), now);
    known.set(id, sung);
    return sung;
  };
  const candidates: Candidate[] = [];
  const take = (song: FiledSong | undefined, match: WordMatch | null): void => {
    if (song && filters.every((holds) => holds(song, sungOf))) candidates.push({ song, match });
  };
  if (words) for (const match of words.matches) take(book.songs.get(match.song.id), match);
  else for (const song of book.songs.values()) take(song, null);
  const end = query.from + query.most;
  const ordered = {
    best: () => best(query.q, words, candidates, end),
    title: () => firstOf(candidates, byTitle, end),
    rested: () => firstOf(candidates, byRest(sungOf), end),
  }[query.order]();
  const page = ordered.slice(query.from, end);
  return {
    songs: page.map(({ song, match }) => {
      const found = words && match ? words.placesIn(match.song, song.entry) : [];
      return librarySong(song, sungOf(song), found, fitOf(song));
    }),
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
