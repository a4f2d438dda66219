import { describe, expect, it } from 'vitest';
import { LibraryEntries, NO_DETAILS, type LibraryEntry } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { Book } from './book.ts';
import { Doubles } from './doubles.ts';

const hymns = HYMN_FILES.map((file) => LibraryEntries.of(hymn(file), NO_DETAILS));
const [one, other] = hymns as [LibraryEntry, LibraryEntry];

/** What of a song is known, and called otherwise. */
const withTitle = (entry: LibraryEntry, title: string): LibraryEntry => ({ ...entry, title });
const wordsAlone = (entry: LibraryEntry): LibraryEntry => ({ ...entry, sign: { steps: [] } });
const tuneAlone = (entry: LibraryEntry): LibraryEntry => ({ ...entry, lines: [], firstLine: null });
const titleAlone = (title: string): LibraryEntry => wordsAlone(tuneAlone(withTitle(one, title)));

function doublesOf(...entries: LibraryEntry[]): Doubles {
  const songs = entries.map((entry, i) => ({ id: `${i}`, version: 1, entry, key: entry.key }));
  return new Doubles(Book.of(songs));
}
const because = (known: LibraryEntry, brought: LibraryEntry) =>
  doublesOf(known).find(brought)?.because ?? null;

describe('a song with the title of another', () => {
  it('is a double where nothing speaks against it', () => {
    expect(because(withTitle(one, 'Gloria'), titleAlone('gloria'))).toBe('title');
    expect(because(withTitle(one, 'Gloria'), withTitle(wordsAlone(one), 'Gloria!'))).toBe('title');
    expect(because(titleAlone('Gloria'), titleAlone('Gloria'))).toBe('title');
    expect(because(withTitle(wordsAlone(one), 'Gloria'), withTitle(tuneAlone(one), 'Gloria'))).toBe('title'); // prettier-ignore
  });

  it('is another song where its words are others, or its melody is', () => {
    expect(because(withTitle(one, 'Gloria'), withTitle(other, 'Gloria'))).toBe(null);
    for (const part of [wordsAlone, tuneAlone]) {
      const [known, brought] = [one, other].map((entry) => withTitle(part(entry), 'Gloria'));
      expect(because(known as LibraryEntry, brought as LibraryEntry)).toBe(null);
    }
    const otherTune = { ...one, sign: other.sign };
    expect(because(one, otherTune)).toBe(null);
  });

  it('is held against every song of that title, not the last alone', () => {
    const book = doublesOf(withTitle(one, 'Gloria'), withTitle(other, 'Gloria'));
    expect(book.find(withTitle(wordsAlone(one), 'Gloria'))?.id).toBe('0');
    expect(book.find(withTitle(wordsAlone(other), 'Gloria'))?.id).toBe('1');
  });

  it.each(['A song without words', 'Without a title', ' ', '…'])(
    'is no double by “%s”, which nobody gave it',
    (title) => {
      expect(because(titleAlone(title), titleAlone(title))).toBe(null);
    },
  );

  it.each([
    ['The Glory Song', 'Glory Song, The'],
    ['The Glory Song', 'Glory Song'],
    ['A Mighty Fortress', 'Mighty Fortress, A'],
    ['Eve, An', 'An Eve'],
  ])('is the same without articles: %s and %s', (known, brought) => {
    expect(because(titleAlone(known), titleAlone(brought))).toBe('title');
    expect(because(titleAlone(brought), titleAlone(known))).toBe('title');
  });

  it('keeps a title that is nothing but an article', () => {
    expect(because(titleAlone('The'), titleAlone('A'))).toBe(null);
    expect(because(titleAlone('The'), titleAlone('The'))).toBe('title');
  });
});
