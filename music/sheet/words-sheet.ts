import type { SheetHeading } from './sheet.ts';

/** A chord over the words. Where a capo or a button moves it, the shape never stands without what it sounds. */
export interface ChordOver {
  /** As it is played: `G`, `B♭7/D`, `N.C.` */
  readonly name: string;
  /** What it sounds, where that is another; else null. */
  readonly sounds: string | null;
  /** It goes on from the line before, and only reminds whoever looks here. */
  readonly again?: true;
}

/** A stretch of a line: the words that stand from one chord to the next. */
export interface WordsPiece {
  /** Over the first letter of `text`; null: none. */
  readonly chord: ChordOver | null;
  readonly text: string;
  /** The word goes on in the next piece without a space: `A-`, `ma-`. */
  readonly goesOn: boolean;
  /** No syllable begins here: the one before is held under the chord, by a line, or by a hyphen where its word goes on. */
  readonly held?: true;
  /** Chords alone: a bar line stands before it. */
  readonly bar?: true;
  /** Chords alone, where a bar has several: how many of its felt beats this one is played. */
  readonly beats?: number;
}

export interface WordsLine {
  readonly pieces: readonly WordsPiece[];
}

/** One section as it is sung in one pass, or in several that are the same. */
export interface WordsPass {
  /** `Verse 1`, `Refrain`. */
  readonly name: string;
  /** Rubric: how it is played, and who leads it: `held; Ada leads`. */
  readonly directions: readonly string[];
  /** Empty where it was printed before: then the name alone says what is sung. */
  readonly lines: readonly WordsLine[];
}

/** Words with the chords over their syllables: for whoever sings and plays by the chord. */
export interface WordsSheet {
  readonly heading: SheetHeading;
  /** `introduction once, then verses 1 to 5`. */
  readonly order: string;
  readonly passes: readonly WordsPass[];
  readonly remarks: readonly string[];
  readonly cautions: readonly string[];
  readonly credits: readonly string[];
}
