import { describe, expect, it } from 'vitest';
import { LibraryEntries, type LibraryEntry } from '#music';
import { SearchQuery } from '#server/contract/library.ts';
import { Book } from '#server/services/library/book.ts';
import { searchBook } from '#server/services/library/search-songs.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { integer, mulberry32, pick, type Chance } from '#test/support/chance.ts';
import { madeBook } from '#test/support/made-books.ts';

/*
 * A slow reader of the same rule, which shares no code with the index: every word that is asked stands in the song, but for
 * accents, apostrophes and capitals, with at most one slip from four letters on and two from eight on; the last word may
 * be a beginning.
 */

/** Letters and figures only, by what stays of a text when its marks are thrown away. */
function plainWords(text: string): string[] {
  const words: string[] = [];
  let word = '';
  for (const letter of text.toLowerCase().normalize('NFD')) {
    if (/[a-z0-9]/.test(letter)) word += letter;
    else if (!/[\u0300-\u036f'’‘]/.test(letter)) {
      if (word !== '') words.push(word);
      word = '';
    }
  }
  return word === '' ? words : [...words, word];
}

/** Optimal string alignment by its recursive definition, the two beginnings ever shorter; nothing is kept. */
function apart(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most || most < 0) return Infinity;
  if (a === '' || b === '') return a.length + b.length;
  const [shortA, shortB] = [a.slice(0, -1), b.slice(0, -1)];
  if (a.at(-1) === b.at(-1)) return apart(shortA, shortB, most);
  const isSwap = a.length > 1 && a.at(-1) === b.at(-2) && a.at(-2) === b.at(-1);
  return (
    1 +
    Math.min(
      apart(shortA, shortB, most - 1),
      apart(shortA, b, most - 1),
      apart(a, shortB, most - 1),
      isSwap ? apart(a.slice(0, -2), b.slice(0, -2), most - 1) : Infinity,
    )
  );
}

function textOf(entry: LibraryEntry): string {
  const { title, subtitles, firstLine, lines, people, tune, themes, scripture, books } = entry;
  return [title, subtitles, firstLine, lines, people, tune, themes, scripture, books]
    .flat()
    .join('\n');
}

function isMeant(asked: string, word: string, isLast: boolean): boolean {
  if (isLast && word.startsWith(asked)) return true;
  const allowed = asked.length >= 8 ? 2 : asked.length >= 4 ? 1 : 0;
  if (allowed === 0 || Math.abs(asked.length - word.length) > allowed) return asked === word;
  return apart(asked, word, allowed) <= allowed;
}

const known = new Map<string, string[]>();
function meantBy(asked: string, isLast: boolean): string[] {
  const key = `${asked} ${isLast}`;
  const words = known.get(key) ?? allWords.filter((word) => isMeant(asked, word, isLast));
  known.set(key, words);
  return words;
}

/** Which songs have all that is asked; each word is held against every word there is. */
function foundSlowly(question: string): string[] {
  const asked = plainWords(question);
  const meant = asked.map((each) => meantBy(each, each === asked.at(-1)));
  return songs.flatMap(({ id }, i) =>
    meant.every((words) => words.some((word) => vocabularies[i]?.has(word))) ? [id] : [],
  );
}

const chance = mulberry32(20261128);
const songs = madeBook(100, chance).map(({ id, score, details }) => ({
  id,
  entry: LibraryEntries.of(score, details),
}));
const vocabularies = songs.map(({ entry }) => new Set(plainWords(textOf(entry))));
const allWords = [...new Set(vocabularies.flatMap((words) => [...words]))];

const book = Book.of(songs.map(({ id, entry }) => ({ id, entry, key: entry.key, version: 1 })));
const NOW = new Date('2026-03-01T10:00:00Z');
const search = (q: string, most = 500) => searchBook(book, SearchQuery.parse({ q, most }), NOW);

/** Two neighbours the other way round. */
const swap = (word: string, at: number): string =>
  word.slice(0, at) +
  word
    .slice(at, at + 2)
    .split('')
    .reverse()
    .join('') +
  word.slice(at + 2);

/** One slip of the finger: a letter changed, left out, put in, or two of them swapped. */
function slip(word: string, random: Chance): string {
  const at = Math.floor(random() * word.length);
  const letter = pick(random, [...'abcdefghijklmnopqrstuvwxyz']);
  const [before, after] = [word.slice(0, at), word.slice(at + 1)];
  return pick(random, [
    before + letter + after,
    before + after,
    `${before}${letter}${word.slice(at)}`,
    swap(word, at),
  ]);
}

const accented = (text: string): string =>
  text.replace('e', 'é').replace('o', 'ö').replace('a', 'á');
const half = (word: string): string => word.slice(0, Math.max(1, Math.ceil(word.length / 2)));
const COMMON = ['the', 'of', 'and', 'to', 'in', 'a', 'my', 'thy', 'all', 'i', 'is', 'with'];

interface Asked {
  readonly kind: string;
  readonly text: string;
  /** Index of the song that is expected first. */
  readonly first?: number;
}

function questions(): Asked[] {
  const list: Asked[] = [];
  const anySong = (): number => Math.floor(chance() * songs.length);
  const entryOf = (index: number) => (songs[index] as (typeof songs)[number]).entry;
  const make: Readonly<Record<string, () => Omit<Asked, 'kind'>>> = {
    'whole title': () => {
      const first = anySong();
      return { text: entryOf(first).title, first };
    },
    'whole first line': () => {
      const first = anySong();
      return { text: entryOf(first).firstLine ?? entryOf(first).title, first };
    },
    'word of a title': () => ({ text: pick(chance, plainWords(entryOf(anySong()).title)) }),
    'title with a slip in each long word': () => {
      const words = plainWords(entryOf(anySong()).title);
      return {
        text: words.map((word) => (word.length >= 5 ? slip(word, chance) : word)).join(' '),
      };
    },
    'three words of a song': () => {
      const words = [...(vocabularies[anySong()] as Set<string>)];
      return { text: [1, 2, 3].map(() => pick(chance, words)).join(' ') };
    },
    'words of anywhere': () => ({ text: `${pick(chance, allWords)} ${pick(chance, allWords)}` }),
    'half a word': () => ({ text: half(pick(chance, allWords)) }),
    'a word and half of another': () => {
      const words = [...(vocabularies[anySong()] as Set<string>)];
      return { text: `${pick(chance, words)} ${half(pick(chance, words))}` };
    },
    'accents put where there are none': () => ({ text: accented(pick(chance, allWords)) }),
    'common words': () => ({ text: `${pick(chance, COMMON)} ${pick(chance, COMMON)}` }),
    'a common word and a slip': () => ({
      text: `${pick(chance, COMMON)} ${slip(pick(chance, allWords), chance)}`,
    }),
    'two slips in one word': () => ({ text: slip(slip(pick(chance, allWords), chance), chance) }),
    'two letters of a title swapped': () => {
      const words = plainWords(entryOf(anySong()).title);
      return { text: words.map((word) => swap(word, integer(chance, 0, word.length))).join(' ') };
    },
    'two letters of any word swapped': () => {
      const word = pick(chance, allWords);
      return { text: swap(word, integer(chance, 0, word.length)) };
    },
    'two swaps and a word': () => {
      const word = pick(chance, allWords);
      const swapped = swap(swap(word, integer(chance, 0, 3)), integer(chance, 3, word.length));
      return { text: `${pick(chance, COMMON)} ${swapped}` };
    },
    'a tune': () => ({ text: entryOf(anySong()).tune ?? 'tune' }),
  };
  const kinds = Object.keys(make);
  for (let i = 0; i < 2000; i += 1) {
    const kind = kinds[i % kinds.length] as string;
    const made = (make[kind] as () => Omit<Asked, 'kind'>)();
    if (plainWords(made.text).length > 0) list.push({ kind, ...made });
    else list.push({ kind, text: 'grace' });
  }
  return list;
}

describe('search against a slow reader of the same rule', () => {
  const asked = questions();

  it('finds the same songs for 2,000 questions', { timeout: 180_000 }, () => {
    expect(asked).toHaveLength(2000);
    let found = 0;
    for (const { kind, text } of asked) {
      const slow = foundSlowly(text);
      const quick = search(text).songs.map(({ id }) => id);
      expect(quick.sort(), `${kind}: ${text}`).toEqual(slow.sort());
      found += slow.length;
    }
    expect(found).toBeGreaterThan(20_000);
  });

  it('forgives swapped letters: “garce” finds grace, and a word of three letters is no other', () => {
    const titles = (q: string) => search(q).songs.map(({ title }) => title);
    expect(titles('amazing garce')).toContain('Amazing Grace');
    expect(titles('amzaing grace')).toContain('Amazing Grace');
    expect(titles('amzaing garce')).toContain('Amazing Grace');
    expect(titles('gsa')).toEqual(titles('gsa').filter((title) => /gsa/i.test(title)));
  });

  it('has the song first whose title or first line is asked, 95 times of a hundred', () => {
    const meant = asked.filter(({ first }) => first !== undefined);
    const good = meant.filter(({ text, first = 0 }) => {
      const [best] = search(text, 1).songs;
      return best?.id === songs[first]?.id;
    });
    const percent = (100 * good.length) / meant.length;
    process.stdout.write(
      `search: ${good.length} of ${meant.length} titles and first lines come first (${percent.toFixed(1)} %)\n`,
    );
    expect(percent).toBeGreaterThanOrEqual(95);
  });
});

/** Whether the words stand in a line one after the other, the last perhaps as the beginning of one; by plain loops. */
function holds(entry: LibraryEntry, asked: readonly string[]): boolean {
  return textOf(entry)
    .split('\n')
    .map(plainWords)
    .some((line) =>
      line.some((_, at) =>
        asked.every((word, i) =>
          i === asked.length - 1 ? line[at + i]?.startsWith(word) : line[at + i] === word,
        ),
      ),
    );
}

/** Whether every word stands in the song as it was typed, the last perhaps as the beginning of one. */
function hasExactly(song: number, asked: readonly string[]): boolean {
  const words = vocabularies[song] as Set<string>;
  const last = asked.at(-1) as string;
  return (
    asked.slice(0, -1).every((word) => words.has(word)) &&
    [...words].some((word) => word.startsWith(last))
  );
}

/** Phrases of three to five words from the lines of the hymns themselves. */
function phrases(count: number): { readonly song: number; readonly words: string[] }[] {
  return Array.from({ length: count }, (_, i) => {
    const song = i % HYMN_FILES.length;
    const length = 3 + (i % 3);
    const lines = songs[song]?.entry.lines.map(plainWords) ?? [];
    const line = pick(
      chance,
      lines.filter((words) => words.length >= length),
    );
    const at = Math.floor(chance() * (line.length - length + 1));
    return { song, words: line.slice(at, at + length) };
  });
}

describe('the order of what is found', () => {
  const asked = phrases(300);

  it('has the song first from which a phrase of three to five words was cut, or another with the same', () => {
    let own = 0;
    for (const { song, words } of asked) {
      const first = search(words.join(' '), 1).songs[0]?.id;
      const index = songs.findIndex(({ id }) => id === first);
      if (index === song) own += 1;
      else expect(holds(songs[index]?.entry as LibraryEntry, words), words.join(' ')).toBe(true);
    }
    process.stdout.write(`search: ${own} of ${asked.length} phrases find their own song first; before the others stands one with the same phrase\n`); // prettier-ignore
  });

  it('has whole phrases before scattered words, and these before words that are only nearly there', () => {
    for (const { words } of asked) {
      const rungs = search(words.join(' ')).songs.map(({ id }) => {
        const index = songs.findIndex((song) => song.id === id);
        if (holds(songs[index]?.entry as LibraryEntry, words)) return 0;
        return hasExactly(index, words) ? 1 : 2;
      });
      expect(rungs, words.join(' ')).toEqual([...rungs].sort((a, b) => a - b));
    }
  });

  it('has “crown Him Lord of all” before “loud hosanna”', () => {
    expect(search('crown him lord', 1).songs[0]?.title).toContain('All Hail');
  });
});
