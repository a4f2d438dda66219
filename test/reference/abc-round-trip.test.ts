import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Abc, WordsAndChords } from '#music';
import { anyScore } from '#test/support/arbitrary-score.ts';
import { hymn } from '#test/support/hymn.ts';

const files = readdirSync(new URL('../../seed-data/hymns/', import.meta.url)).filter((file) =>
  file.endsWith('.abc'),
);

function again(text: string): unknown {
  const read = Abc.read(text);
  return read.ok ? read.value[0] : read.problems;
}

describe('A song of words and chords, which has no time,', () => {
  const read = WordsAndChords.read(
    'Title: A song\nKey: G\n\nVerse 1\nG      C\nAmazing grace\nhow sweet\n\nRefrain\nD\nHallelu-jah\n\nVerse 2\nThrough many dangers\n',
  );
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const song = read.value;

  it('comes back from ABC with its words, chords and sections, and still has none', () => {
    expect(again(Abc.write(song))).toEqual(song);
  });

  it('shows its words below the music to other programs', () => {
    const words = Abc.write(song).split('\n').filter((line) => /^W:./.test(line)); // prettier-ignore
    expect(words).toContain('W:Amazing grace');
    expect(words).toContain('W:Through many dangers');
  });
});

describe('What is written as ABC comes back the same', () => {
  it.each(files)('%s', (file) => {
    const score = hymn(file);
    const text = Abc.write(score);
    expect(again(text)).toEqual(score);
  });

  it('any score that ABC can hold', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyScore, (score) => {
        expect(again(Abc.write(score))).toEqual(score);
      }),
      { numRuns: 250, seed: 20260101 },
    );
  });
});
