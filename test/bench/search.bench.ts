import Sqlite from 'better-sqlite3';
import { SearchWords, Tunes, type LibraryEntry } from '#music';
import { SearchQuery } from '#server/contract/library.ts';
import { Book } from '#server/services/library/book.ts';
import { searchBook } from '#server/services/library/search-songs.ts';
import { textsOf } from '#server/services/library/searched-texts.ts';
import { mulberry32, pick, type Chance } from '#test/support/chance.ts';
import { madeEntries } from '#test/support/made-books.ts';
import type { Row } from './measure.ts';

const SONGS = 10_000;
const FEW = 100;
const QUESTIONS = 400;
/**
 * Half of what a person who types does not notice (Nielsen 1993, Usability Engineering, 5.5: a tenth of a second): the
 * other half is for the way there and back.
 */
const AT_ONCE_MS = 50;
/** A hundred times the songs, and the words that are common are in all of them. */
const LIMIT_BY_SIZE = 100;
/** Forgiving typos, half words and accents, and putting what is found in order, takes no longer than looking for letters. */
const LIMIT_BY_LIKE = 1;
const NOW = new Date('2026-03-01T10:00:00Z');

const idOf = (i: number): string => `song-${i}`;
const textOf = (entry: LibraryEntry): string =>
  SearchWords.fold(Object.values(textsOf(entry)).flat().join('\n'));

/** What people type: titles, words of songs, first letters, halves of words, slips, swaps, common words. */
function questions(entries: readonly LibraryEntry[], chance: Chance): string[] {
  const wordOf = (entry: LibraryEntry): string =>
    pick(chance, SearchWords.wordsOf(entry.lines.join(' ')));
  const kinds: ((entry: LibraryEntry) => string)[] = [
    ({ title }) => title,
    (entry) => `${wordOf(entry)} ${wordOf(entry)}`,
    (entry) => wordOf(entry).slice(0, 3),
    (entry) => wordOf(entry).slice(0, 1),
    (entry) => wordOf(entry).slice(0, 2),
    (entry) => `${wordOf(entry)} ${wordOf(entry).slice(0, 2)}`,
    (entry) => wordOf(entry).replace(/.$/, 'x'),
    (entry) => wordOf(entry).replace(/(.)(.)$/, '$2$1'),
    () => pick(chance, ['the', 'of the', 'and thy', 'in my', 'all']),
  ];
  return Array.from({ length: QUESTIONS }, (_, i) =>
    (kinds[i % kinds.length] as (typeof kinds)[number])(pick(chance, entries)),
  );
}

function bookOf(entries: readonly LibraryEntry[]): Book {
  return Book.of(entries.map((entry, i) => ({ id: idOf(i), version: 1, entry, key: entry.key })));
}

/** The same texts in a table, asked as one would without an index: every word somewhere in it. */
function tableOf(entries: readonly LibraryEntry[]): (question: string) => unknown {
  const database = new Sqlite(':memory:');
  database.exec('CREATE TABLE song (id TEXT PRIMARY KEY, words TEXT)');
  const put = database.prepare('INSERT INTO song VALUES (?, ?)');
  database.transaction(() => entries.forEach((entry, i) => put.run(idOf(i), textOf(entry))))();
  return (question) => {
    const words = SearchWords.wordsOf(question);
    const where = words.map(() => 'words LIKE ?').join(' AND ');
    const parameters = words.map((word) => `%${word}%`);
    return database.prepare(`SELECT id FROM song WHERE ${where}`).all(...parameters);
  };
}

/** The least of so many: what else the machine does at the moment is not the search. */
const TIMES = 3;
const leastOf = (work: () => unknown): number =>
  Math.min(...Array.from({ length: TIMES }, () => timed(work)));
const timed = (work: () => unknown): number => {
  const began = performance.now();
  work();
  return performance.now() - began;
};
const at = (list: readonly number[], part: number): number =>
  [...list].sort((a, b) => a - b)[Math.floor(list.length * part)] ?? NaN;
const ms = (value: number): string => `${value.toFixed(1)} ms`;

export async function bench(): Promise<Row[]> {
  const chance = mulberry32(1);
  const entries = [...madeEntries(SONGS, chance)];
  const asked = questions(entries, chance);
  const before = process.memoryUsage.rss();
  const began = performance.now();
  const many = bookOf(entries);
  const made = performance.now() - began;
  const memory = (process.memoryUsage.rss() - before) / 1024 / 1024;
  const few = bookOf(entries.slice(0, FEW));
  const like = tableOf(entries);
  const search = (book: Book) => (q: string) => searchBook(book, SearchQuery.parse({ q }), NOW);
  const works = [search(many), search(few), like];
  const times: number[][] = works.map(() => []);
  for (const question of [...asked.slice(0, 40), ...asked]) {
    for (const [i, work] of works.entries()) times[i]?.push(leastOf(() => work(question)));
  }
  const [big = [], small = [], table = []] = times.map((list) => list.slice(40));
  const changed = entries[0] as LibraryEntry;
  const change = timed(() => many.words.put(idOf(0), { ...changed, title: 'Another title' }));
  const signs = entries.map(({ sign }) => sign);
  const notes = ['D4', 'G4', 'B4', 'G4', 'B4', 'A4', 'G4'];
  const byNotes = at(
    Array.from({ length: 9 }, () => timed(() => Tunes.find(notes, signs))),
    0.5,
  );
  return [
    {
      name: 'search over 10,000 songs, p99 / 50 ms',
      ratio: at(big, 0.99) / AT_ONCE_MS,
      limit: 1,
      detail: `p50 ${ms(at(big, 0.5))}, p99 ${ms(at(big, 0.99))}; the index is made in ${ms(made)} and takes ${Math.round(memory)} MB; one changed song ${ms(change)}`,
    },
    {
      name: 'the same p50 / over 100 songs',
      ratio: at(big, 0.5) / at(small, 0.5),
      limit: LIMIT_BY_SIZE,
      detail: `over 100: p50 ${ms(at(small, 0.5))}, p99 ${ms(at(small, 0.99))}`,
    },
    {
      name: 'the same p50 / SQL LIKE over the same texts',
      ratio: at(big, 0.5) / at(table, 0.5),
      limit: LIMIT_BY_LIKE,
      detail: `LIKE, which forgives nothing: p50 ${ms(at(table, 0.5))}, p99 ${ms(at(table, 0.99))}`,
    },
    {
      name: 'a tune by seven notes among 10,000 / a second',
      ratio: byNotes / 1000,
      limit: 1,
      detail: `${ms(byNotes)} at the median`,
    },
  ];
}
