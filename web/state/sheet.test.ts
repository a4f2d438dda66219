import { describe, expect, it } from 'vitest';
import type { SheetAnswer } from '#server/contract/sheets.ts';
import { SheetPage } from './sheet.svelte.ts';

function pageWith(all: readonly number[], under: number | 'all'): SheetPage {
  const page = new SheetPage('song');
  page.current = { verses: { all, under } } as unknown as SheetAnswer;
  return page;
}

describe('The verse under the notes', () => {
  it.each([
    [1, 'verse 1 of 5', 5, 2],
    [3, 'verse 3 of 5', 2, 4],
    [5, 'verse 5 of 5', 4, 1],
    ['all', 'all verses', 5, 1],
  ] as const)(
    '%s is said as “%s”; before it comes %i, after it %i',
    (under, words, before, after) => {
      const page = pageWith([1, 2, 3, 4, 5], under);
      expect([page.verseWords, page.verseFrom(-1), page.verseFrom(1)]).toEqual([
        words,
        before,
        after,
      ]);
    },
  );

  it('is said with those that are sung where these are not all from the first on', () => {
    const page = pageWith([4, 2], 4);
    expect([page.verseWords, page.verseFrom(1), page.verseFrom(-1)]).toEqual([
      'verse 4 of 4, 2',
      2,
      2,
    ]);
  });

  it('is no choice in a song of one verse, or of none', () => {
    expect(pageWith([1], 1).verseWords).toBe('');
    expect(pageWith([], 1).verseFrom(1)).toBeNull();
  });
});
