import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { melodyOf } from '../score/time.ts';
import { textVerses, versePrinted, versesUnder, withWordsOf } from './words-under.ts';

const veni = hymn('O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc');
const line = (verse: number) =>
  melodyOf(withWordsOf(veni, verse))
    .notes.flatMap(({ syllables }) => syllables?.[verse - 1]?.text ?? [])
    .join(' ');

describe('the words of a verse under the notes', () => {
  it.each([1, 2, 3, 4, 5])('verse %i goes on with the refrain, which is written once', (verse) => {
    expect(line(verse)).toMatch(
      /^O come, .* Re joice! Re joice! .* Is ra el\.$|^O come, .* I sra el\.$/,
    );
  });

  it('are those of the verse that is asked for', () => {
    expect(line(2)).toContain('Thou Wis dom');
    expect(line(2)).not.toContain('ran som');
  });

  it('leave the other verses to stand as text, with their numbers', () => {
    expect(versesUnder(veni)).toEqual([1, 2, 3, 4, 5]);
    expect(textVerses(veni, 2).map(({ number }) => number)).toEqual([1, 3, 4, 5]);
    expect(textVerses(veni, 2)[1]?.lines.join(' ')).toMatch(/^O come, Thou Rod of Jesse, free/);
    expect(textVerses(veni, 'all')).toEqual([]);
  });

  it('are the first verse’s where the song has not got the one that is asked for', () => {
    expect([9, 2, 'all' as const].map((verse) => versePrinted(veni, verse))).toEqual([1, 2, 'all']);
  });

  it('are all text where a verse has none under the notes', () => {
    const below = { number: 6, label: '6.', lines: ['Below the music'] };
    const song = { ...veni, verses: [...veni.verses, below] };
    expect(textVerses(song, 'all')).toEqual([{ number: 6, lines: ['Below the music'] }]);
    expect(versesUnder(song)).toEqual([1, 2, 3, 4, 5]);
  });
});
