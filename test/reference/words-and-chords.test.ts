import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Reduction, WordsAndChords, type Score } from '#music';
import { anyWordsText } from '#test/support/arbitrary-text.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { playedPasses } from '#test/support/played-lines.ts';

function read(text: string): Score {
  const result = WordsAndChords.read(text);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

describe('A song written as text and read again', () => {
  it.each(HYMN_FILES)('%s keeps its words, chords, places, sections and order', (file) => {
    const score = Reduction.withChords(hymn(file), { density: 'bar' });
    expect(playedPasses(read(WordsAndChords.write(score)))).toEqual(playedPasses(score));
  });

  it('keeps every chord of the full reading too', () => {
    for (const file of HYMN_FILES) {
      const score = Reduction.withChords(hymn(file), { density: 'beat' });
      expect(playedPasses(read(WordsAndChords.write(score))), file).toEqual(playedPasses(score));
    }
  });

  it('keeps whatever was typed', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyWordsText, (text) => {
        const score = read(text);
        const written = WordsAndChords.write(score);
        expect(playedPasses(read(written)), written).toEqual(playedPasses(score));
        expect(WordsAndChords.write(read(written))).toBe(written);
      }),
      { numRuns: 120 },
    );
  });

  it('says the refrain that comes again by its name alone', () => {
    const text = WordsAndChords.write(
      Reduction.withChords(hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc'), {
        density: 'bar',
      }),
    );
    expect(text.match(/^Refrain$/gm)).toHaveLength(3);
    expect(text.match(/This is my story, this is my song,/g)).toHaveLength(2);
  });
});
