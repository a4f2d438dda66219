import { describe, expect, it } from 'vitest';
import { eachOnce, lettersApart, mistakesIn } from './search-words.ts';

describe('how far two words are apart', () => {
  /*
   * Published examples: ca/abc as in Boytsov 2011, “Indexing methods for approximate dictionary searching”, and in the
   * article “Damerau–Levenshtein distance” of Wikipedia, which has 3 for the optimal string alignment and 2 where letters
   * may be touched twice; kitten/sitting and saturday/sunday as in its article “Levenshtein distance”; iota/atom from the
   * documentation of the library `edits` (restricted edit distance).
   */
  it.each([
    ['ca', 'abc', 3],
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['iota', 'atom', 3],
  ])('%s and %s: %i, as published', (one, other, apart) => {
    expect(lettersApart(one, other)).toBe(apart);
    expect(lettersApart(other, one)).toBe(apart);
  });

  it.each([
    ['garce', 'grace', 1],
    ['grcae', 'grace', 1],
    ['gracious', 'grcaiosu', 2],
    ['ab', 'ba', 1],
    ['', 'ab', 2],
    ['grace', 'grace', 0],
  ])('%s and %s: %i', (one, other, apart) => {
    expect(lettersApart(one, other)).toBe(apart);
  });

  it.each([
    ['god', 0],
    ['love', 1],
    ['blessed', 1],
    ['mountain', 2],
  ])('%s may hold %i slips', (word, slips) => {
    expect(mistakesIn(word)).toBe(slips);
  });
});

describe('texts, each once', () => {
  it.each([
    [['Trust', 'trust', 'TRÚST'], ['Trust']],
    [
      ['trust', 'Trust', 'hope'],
      ['trust', 'hope'],
    ],
    [["God's care", 'God’s Care'], ["God's care"]],
    [
      ['☧', '☩', '☧'],
      ['☧', '☩'],
    ],
    [[], []],
  ])('%j: %j', (texts, once) => expect(eachOnce(texts)).toEqual(once));
});
