import { describe, expect, it } from 'vitest';
import { WordsAndChords } from '#music';
import { rowsOf, type Piece } from './rows.ts';

const rows = (...lines: string[]) => rowsOf(WordsAndChords.lines(lines.join('\n')));
/** A piece as it would be printed, a line of it after another. */
const printed = ({ words, length }: Piece, row: number): string => {
  const letters = Array.from({ length }, () => ' ');
  for (const each of words) {
    if (each.row === row)
      [...each.word.text].forEach((letter, i) => (letters[each.at + i] = letter));
  }
  return letters.join('');
};

describe('Lines as they are shown', () => {
  it('are chords together with the words below them, and others alone', () => {
    const all = rows(
      'Verse 1',
      'G        C',
      'A lamp in the window',
      'D   G',
      '',
      'more of the words',
    );
    expect(all.map(({ lines }) => lines.map(({ as }) => as))).toEqual([
      ['heading'],
      ['chords', 'words'],
      ['chords'],
      ['words'],
    ]);
  });

  it('are broken only where no word goes on, so that every chord stays over its letter', () => {
    const [chords, words] = ['  G       C     G/B', 'A lamp in the window burning'];
    const [row] = rows(chords, words);
    expect(row?.pieces.map((piece) => [printed(piece, 0), printed(piece, 1)])).toEqual([
      ['  ', 'A '],
      ['G    ', 'lamp '],
      ['   ', 'in '],
      ['C   ', 'the '],
      ['  G/B  ', 'window '],
      ['       ', 'burning'],
    ]);
    // Laid side by side they are the lines again.
    const joined = (at: number) => row?.pieces.map((piece) => printed(piece, at)).join('');
    expect(joined(0)?.trimEnd()).toBe(chords);
    expect(joined(1)).toBe(words);
  });

  it('keep what stands in from the edge', () => {
    const [row] = rows('    G   C', '    Lamps low');
    expect(row?.pieces[0]?.length).toBeGreaterThan(4);
    expect(row?.pieces[0]?.words[0]?.at).toBe(4);
  });
});
