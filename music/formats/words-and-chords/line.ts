import type { Chord } from '../../pitch/chord.ts';
import type { Problem } from '../../result.ts';
import type { TextMark, TextReading } from './mark.ts';
import type { Token } from './columns.ts';
import type { Fact } from './facts.ts';
import type { Heading } from './headings.ts';

/** One word, chord or sign of a line, and what it was taken for. */
export interface ReadWord {
  /** 1-based column of its first letter, UTF-16 units, as in `TextMark`. */
  readonly column: number;
  /** 0-based column as it is seen: tabs lead to multiples of eight, full-width letters take two. */
  readonly seen: number;
  readonly text: string;
  /** `sign`: a bar line, a repeat, a stroke, `x2`; it is no word and no chord. */
  readonly as: TextReading | 'sign';
  /** One sentence. */
  readonly reason: string;
  /** It could as well be the other. */
  readonly doubtful: boolean;
  /** A person said so. */
  readonly marked: boolean;
}

/** One line of the text, and what it was taken for. */
export interface ReadLine {
  /** 1-based. */
  readonly line: number;
  readonly text: string;
  readonly as: TextReading | 'blank';
  /** What a heading names: the song, a section, a fact about the song (`Key: G`), or who wrote it. */
  readonly names: 'title' | 'section' | 'fact' | 'credit' | null;
  readonly reason: string;
  readonly doubtful: boolean;
  readonly marked: boolean;
  readonly words: readonly ReadWord[];
}

/** A chord where it stands on the page. */
export interface PlacedChord {
  readonly token: Token;
  /** null: no chord (N.C.). */
  readonly chord: Chord | null;
}

/** A line as the reader goes on with it. */
export interface KnownLine extends ReadLine {
  readonly heading: Heading | null;
  readonly fact: Fact | null;
  readonly chords: readonly PlacedChord[];
  /** Bar lines and repeat signs on a line of chords. */
  readonly bars: readonly Token[];
  readonly sung: readonly Token[];
  readonly times: number;
  readonly warnings: readonly Problem[];
}

/** Marks of one line. */
export interface LineMarks {
  readonly whole: TextReading | null;
  /** By 1-based column. */
  readonly words: ReadonlyMap<number, TextReading>;
}

const NO_MARKS: LineMarks = { whole: null, words: new Map() };

/** Marks by line; of two for one place the later counts. */
export function marksByLine(marks: readonly TextMark[]): (line: number) => LineMarks {
  const byLine = new Map<number, { whole: TextReading | null; words: Map<number, TextReading> }>();
  for (const { line, column, as } of marks) {
    const found = byLine.get(line) ?? { whole: null, words: new Map<number, TextReading>() };
    if (column === undefined) found.whole = as;
    else found.words.set(column, as);
    byLine.set(line, found);
  }
  return (line) => byLine.get(line) ?? NO_MARKS;
}
