import { HymnMeter, Keys, RangeFit, Scripture, SearchWords, type Key } from '#music';
import type { SearchQueryRead } from '../../contract/library.ts';
import { Refusal } from '../refusal.ts';
import type { BookSong } from './book.ts';
import type { Sung } from './library-song.ts';
import { onceEach } from './once-each.ts';

/** What a song must be, beside having the words. */
export type Filter = (song: BookSong, sungOf: (song: BookSong) => Sung) => boolean;

function keyOf(text: string): Key {
  const key = Keys.readKey(text);
  if (key) return key;
  throw new Refusal(
    'unreadable-key',
    `“${text}” is not a key; one looks like F, Bb, E minor or D dorian.`,
  );
}

function booksOf(text: string): string[] {
  const read = Scripture.read(text);
  if (read.ok) return read.value.map(({ book }) => book);
  throw new Refusal('no-such-scripture', read.problems[0]?.message ?? 'There is no such book.');
}

const folded = (text: string): string => SearchWords.wordsOf(text).join(' ');
const language = (tag: string | null): string => tag?.toLowerCase().split('-')[0] ?? '';

/** Everything that is asked must hold; what is not asked is no filter. @param fitOf `fittingFor` the same query */
export function filtersOf(query: SearchQueryRead, fitOf: Fitting): Filter[] {
  const filters: Filter[] = [];
  const ask = <T>(value: T | undefined, make: (value: T) => Filter): void => {
    if (value !== undefined && value !== '') filters.push(make(value));
  };
  ask(query.key, (text) => {
    const key = keyOf(text);
    return (song) => Keys.sameKey(song.key, key);
  });
  ask(
    query.meter,
    (meter) =>
      ({ entry }) =>
        entry.meter === meter.trim(),
  );
  ask(query.hymnMeter, (meter) => {
    // Irregular ones fit no other, and may be looked for all the same.
    const asked = folded(meter);
    const isAsked = (own: string | null): boolean =>
      HymnMeter.same(own, meter) || folded(own ?? '') === asked;
    const holds = onceEach(isAsked);
    return ({ entry: { hymnMeter } }) => holds(hymnMeter);
  });
  ask(query.theme, (theme) => {
    const asked = folded(theme);
    return ({ entry }) => entry.themes.some((each) => folded(each) === asked);
  });
  ask(query.book, (text) => {
    const asked = booksOf(text);
    return ({ entry }) => asked.some((book) => entry.books.includes(book));
  });
  ask(
    query.language,
    (tag) =>
      ({ entry }) =>
        language(entry.language) === language(tag),
  );
  ask(
    query.slowest,
    (slowest) =>
      ({ entry }) =>
        (entry.feltTempo ?? -1) >= slowest,
  );
  ask(
    query.fastest,
    (fastest) =>
      ({ entry }) =>
        entry.feltTempo !== null && entry.feltTempo <= fastest,
  );
  ask(query.rested, (least) => (song, sungOf) => {
    const { weeks } = sungOf(song);
    return weeks === null || weeks >= least;
  });
  if (query.low !== undefined || query.high !== undefined) {
    filters.push((song) => fitOf(song) !== null);
  } else {
    ask(
      query.accidentals,
      (most) =>
        ({ key }) =>
          Math.abs(Keys.signatureOf(key)) <= most,
    );
  }
  return filters;
}

/** The nearest key in which a song sits in the range that was asked; null: none was asked, or in none. */
export type Fitting = (song: BookSong) => Key | null;

export function fittingFor({ low, high, accidentals }: SearchQueryRead): Fitting {
  if (low === undefined && high === undefined) return () => null;
  return onceEach(
    ({ entry, key }: BookSong) => RangeFit.nearest(entry, key, { low, high, accidentals }),
    ({ entry, key }) => {
      const own = entry.key;
      return [own.tonic, own.mode, key.tonic, key.mode, entry.range?.low, entry.range?.high].join();
    },
  );
}
