/** What a line, or one word of a line, is taken for. `nothing`: left out of the song. */
export type TextReading = 'heading' | 'chords' | 'words' | 'nothing';

/** What a person says a line or a word is, against what was taken. */
export interface TextMark {
  /** 1-based. */
  readonly line: number;
  /** 1-based column of the first letter of one word (`chords`: it is a chord; `words`: it is sung); missing: the line. */
  readonly column?: number;
  readonly as: TextReading;
}
