import { describe, expect, it } from 'vitest';
import { bestPlace, piecesOf } from './found-words.ts';
import { restWords } from './rest-words.ts';

describe('How long a song has rested', () => {
  it.each([
    [null, 'never sung here'],
    ['2026-11-29', 'sung this week'],
    ['2026-11-22', 'rested one week'],
    ['2026-09-27', 'rested nine weeks'],
    ['2026-08-16', 'rested 15 weeks'],
    ['2024-03-03', 'rested two years'],
  ])('last sung %s: %s', (last, words) => expect(restWords(last, '2026-11-29')).toBe(words));
});

describe('The words that were looked for', () => {
  const found = (line: string, words: string) =>
    piecesOf(line, words)
      .filter(({ isFound }) => isFound)
      .map(({ text }) => text);

  it.each([
    ['Amazing grace! how sweet the sound', 'grase swe', ['grace', 'sweet']],
    ['Über den Wolken', 'uber', ['Über']],
    ['O God, our help', 'god', ['God']],
    ['God’s own', 'gods', ['God’s']],
    ['A lamp', 'x', []],
  ])('in “%s”, “%s” stands out', (line, words, out) => {
    expect(found(line, words)).toEqual(out);
    expect(piecesOf(line, words).map(({ text }) => text).join('')).toBe(line); // prettier-ignore
  });
});

describe('The place that is shown', () => {
  const places = ['Brevity of Life', 'That saved a wretch like me!'].map((text) => ({ text }));

  it('holds the most of the words as they were typed; where none does, it is the first', () => {
    expect(bestPlace(places, 'wretch like me')?.text).toBe('That saved a wretch like me!');
    expect(bestPlace(places, 'lyfe')?.text).toBe('Brevity of Life');
    expect(bestPlace([], 'life')).toBeUndefined();
  });
});
