import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { hymn } from '#test/support/hymn.ts';
import { introductionOf, withIntroduction } from './introduction.ts';
import { sayOrder } from './order-words.ts';

describe('the order in which everything is played', () => {
  it.each([
    ['Amazing_Grace-New_Britain.abc', 'introduction once, then verses 1 to 7'],
    [
      'Blessed_Assurance-Blessed_Assurance-Assurance.abc',
      'introduction once, then verse, refrain ×3',
    ],
    ['O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc', 'introduction once, then verse, refrain ×5'],
    ['Silent_Night-Stille_Nacht.abc', 'introduction once, then verses 1 to 4'],
  ])('%s: %s', (file, order) => {
    const song = hymn(file);
    expect(sayOrder(withIntroduction(song, introductionOf(song)))).toBe(order);
  });

  it.each([
    ['"C"CDEF|', ['C D E F'], 'verse 1'],
    ['"C"CDEF|', ['a b c d', 'e f g h'], 'verses 1 and 2'],
    ['"C"CDEF|', [], 'verse'],
    ['|:"C"CDEF:|', [], 'verse, with the repeats'],
    [
      '"C"CDEF|1CDEF:|2CCCC|]',
      ['a b c d a b c d a b c d', 'e f g h e f g h e f g h'],
      'verses 1 and 2, each to its own ending',
    ],
  ])('%s with words %j: %s', (music, words, order) => {
    expect(sayOrder(songOf(music, words))).toBe(order);
  });

  it('names what stands in no pattern pass by pass', () => {
    const song = hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc');
    const form = ['verse:1', 'verse:2', 'refrain', 'verse:3', 'refrain', 'refrain'].map((each) => {
      const [section = '', verse] = each.split(':');
      return { section, verse: verse === undefined ? null : Number(verse) };
    });
    expect(sayOrder({ ...song, form })).toBe('verses 1 and 2, refrain, verse 3, refrain ×2');
  });
});
