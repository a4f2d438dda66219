import { describe, expect, it } from 'vitest';
import { found, type Option } from './type-ahead.ts';

const option = (words: string, aside = ''): Option => ({ id: words, words, aside });
const SONGS = [
  option('O for a thousand tongues', 'Azmon'),
  option('Amazing Grace', 'New Britain'),
  option('Grâce infinie'),
  option('Be Thou My Vision', 'Slane'),
];
const names = (text: string) => found(SONGS, text).map(({ words }) => words);

describe('Looking for a song while typing', () => {
  it.each([
    ['grac', ['Grâce infinie', 'Amazing Grace']],
    ['GRÂCE', ['Grâce infinie', 'Amazing Grace']],
    ['thou', ['Be Thou My Vision', 'O for a thousand tongues']],
    ['slane', ['Be Thou My Vision']],
    ['zzz', []],
  ])('%s finds what begins so first, then a word, then any place', (text, wanted) => {
    expect(names(text)).toEqual(wanted);
  });

  it('shows no more than a phone has room for', () => {
    const many = Array.from({ length: 40 }, (_, i) => option(`Song ${i}`));
    expect(found(many, 'so')).toHaveLength(6);
  });
});
