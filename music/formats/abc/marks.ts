import type { Ticks } from '../../score/score.ts';
import type { BarSign } from './token.ts';

/** A moment of a voice with its place in the text. */
export interface Mark {
  readonly at: Ticks;
  readonly line: number;
  readonly column: number;
}

/** The notes of one line of music, and the lines of words under it. */
export interface Segment {
  readonly line: number;
  readonly from: number;
  /** `onRests`: the words of a song without time stand at rests too. */
  readonly words: { text: string; line: number; column: number; onRests: boolean }[];
}

export interface BarMark extends Mark {
  sign: BarSign;
  /** The ending that begins here. */
  endings: readonly number[];
}

export const SINGLE: BarSign = { line: 'single', repeatStart: false, repeatEnd: false };

/** Two bar signs at one moment (`:|` and `|:` with a line break between) are one. */
export function merged(first: BarSign, second: BarSign): BarSign {
  const rank = ['single', 'dashed', 'none', 'double', 'final'];
  const line = rank.indexOf(second.line) > rank.indexOf(first.line) ? second.line : first.line;
  return {
    line,
    repeatStart: first.repeatStart || second.repeatStart,
    repeatEnd: first.repeatEnd || second.repeatEnd,
  };
}
