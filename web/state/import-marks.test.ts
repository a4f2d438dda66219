import { describe, expect, it } from 'vitest';
import { SongFiles, WordsAndChords, type TextMark } from '#music';
import { carryMarks, tapLine, tapWord } from './import-marks.ts';

const TEXT = 'A Title\n\nG     A\nGo now\nDo\n';

const lineAs = (marks: readonly TextMark[], line: number) =>
  WordsAndChords.lines(TEXT, { marks })[line - 1]?.as;

describe('How a text is read', () => {
  it.each([
    ['X: 1\nT: A tune\nK: C\nCDEF|', 'abc'],
    ['T: No number\nM: 3/4\nK: G\nGAB|', 'abc'],
    ['Title: A Song\nKey: G\n\nG\nwords', 'words'],
    ['only words', 'words'],
    ['', 'words'],
  ])('%j is read as %s', (text, format) => {
    expect(SongFiles.formatOfText(text)).toBe(format);
  });
});

describe('A tap on a line', () => {
  it('takes chords for words first, then goes round to what it was, and leaves no mark', () => {
    let marks: readonly TextMark[] = [];
    const met: (string | undefined)[] = [lineAs(marks, 3)];
    for (let taps = 0; taps < 4; taps += 1) {
      marks = tapLine(TEXT, marks, 3)?.marks ?? [];
      met.push(lineAs(marks, 3));
    }
    expect(met).toEqual(['chords', 'words', 'heading', 'nothing', 'chords']);
    expect(marks).toEqual([]);
  });

  it('takes words for chords first', () => {
    expect(tapLine(TEXT, [], 5)).toEqual({ as: 'chords', marks: [{ line: 5, as: 'chords' }] });
  });

  it('forgets what was said of its words, and of no other line', () => {
    const marks = [
      { line: 3, column: 7, as: 'words' },
      { line: 4, column: 1, as: 'nothing' },
    ] as const;
    expect(tapLine(TEXT, marks, 3)?.marks).toEqual([marks[1], { line: 3, as: 'words' }]);
  });

  it('says nothing of an empty line or one that is not there', () => {
    expect(tapLine(TEXT, [], 2)).toBeNull();
    expect(tapLine(TEXT, [], 99)).toBeNull();
  });
});

describe('A tap on a word', () => {
  it('takes a chord for a sung word, then leaves it out, then is a chord again', () => {
    const first = tapWord(TEXT, [], 3, 7);
    expect(first).toEqual({ as: 'words', marks: [{ line: 3, column: 7, as: 'words' }] });
    const second = tapWord(TEXT, first?.marks ?? [], 3, 7);
    expect(second?.as).toBe('nothing');
    expect(tapWord(TEXT, second?.marks ?? [], 3, 7)).toEqual({ as: 'chords', marks: [] });
  });

  it('takes a word for a chord only where it can be read as one', () => {
    expect(tapWord(TEXT, [], 4, 1)?.as).toBe('chords');
    expect(tapWord(TEXT, [], 4, 4)?.as).toBe('nothing');
  });

  it('says nothing where no word begins', () => {
    expect(tapWord(TEXT, [], 4, 2)).toBeNull();
  });
});

describe('What was said, after the text is changed', () => {
  const marks: readonly TextMark[] = [
    { line: 1, as: 'words' },
    { line: 4, column: 1, as: 'chords' },
  ];

  it('moves with its line where lines come or go above it', () => {
    expect(carryMarks(marks, 'a\nb\nc\nd', 'a\nnew\nb\nc\nd')).toEqual([
      marks[0],
      { line: 5, column: 1, as: 'chords' },
    ]);
    expect(carryMarks(marks, 'a\nb\nc\nd', 'a\nd')).toEqual([
      marks[0],
      { line: 2, column: 1, as: 'chords' },
    ]);
  });

  it('goes with a line that was changed itself', () => {
    expect(carryMarks(marks, 'a\nb\nc\nd', 'a\nb\nc\ndd')).toEqual([marks[0]]);
    expect(carryMarks(marks, 'a\nb\nc\nd', '')).toEqual([]);
  });
});
