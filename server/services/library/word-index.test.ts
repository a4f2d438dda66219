import { describe, expect, it } from 'vitest';
import { LibraryEntries, type LibraryEntry } from '#music';
import { integer, mulberry32, pick } from '#test/support/chance.ts';
import { madeBook } from '#test/support/made-books.ts';
import { WordIndex } from './word-index.ts';

const chance = mulberry32(3);
const entries = madeBook(30, chance).map(({ score, details }) => LibraryEntries.of(score, details));

const found = (index: WordIndex, question: string) =>
  (index.find(question)?.matches ?? [])
    .map(({ song, score, isExact, inHeads }) => ({ id: song.id, score, isExact, inHeads }))
    .sort((a, b) => (a.id < b.id ? -1 : 1));

describe('the index of words', () => {
  it('finds after a hundred songs came, changed and went what one made anew finds', () => {
    const index = new WordIndex();
    const there = new Map<string, LibraryEntry>();
    for (let i = 0; i < 100; i += 1) {
      const id = `song-${integer(chance, 0, 20)}`;
      if (chance() < 0.3) {
        index.drop(id);
        there.delete(id);
      } else {
        const entry = pick(chance, entries);
        index.put(id, entry);
        there.set(id, entry);
      }
    }
    const anew = new WordIndex();
    for (const [id, entry] of there) anew.put(id, entry);
    let told = 0;
    for (const question of ['grace', 'the l', 'lord of all', 'garce', 'hosana', 'o', 'and the']) {
      const songs = found(index, question);
      expect(songs, question).toEqual(found(anew, question));
      told += songs.length;
    }
    expect(there.size).toBeGreaterThan(5);
    expect(told).toBeGreaterThan(20);
  });

  it('counts a word in the title for more than one in a line, and one as it is typed for more than its beginning', () => {
    const [entry] = entries as [LibraryEntry];
    const none = { subtitles: [], firstLine: null, people: [], tune: null, themes: [], scripture: [], books: [] }; // prettier-ignore
    const index = new WordIndex();
    index.put('title', { ...entry, ...none, title: 'Morning', lines: [] });
    index.put('begun', { ...entry, ...none, title: 'Mornings', lines: [] });
    index.put('slip', { ...entry, ...none, title: 'Mroning', lines: [] });
    index.put('line', { ...entry, ...none, title: 'Dawn', lines: ['In the morning'] });
    const matches = [...(index.find('morning')?.matches ?? [])].sort((a, b) => b.score - a.score);
    expect(matches.map(({ song, isExact }) => [song.id, isExact])).toEqual([
      ['title', true],
      ['begun', true],
      ['slip', false],
      ['line', true],
    ]);
  });
});
