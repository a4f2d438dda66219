import type { NamedNotes } from '../../pitch/note-names.ts';

/** What is written of a score, and for whom. */
export interface WriteOptions {
  /** Ids of the voices to write, missing: all. */
  readonly voices?: readonly string[];
  /** Numbers of the verses under the notes, missing: all that have syllables. */
  readonly verses?: readonly number[];
  /** Chord symbols over the melody; missing: `apart`, degrees as elements; `printed`: in the printed text only. */
  readonly chords?: false | 'apart' | 'printed';
  /** What `printed` chord symbols call notes; missing: `english`. Numbers are counted in the key that is in force. */
  readonly chordNames?: NamedNotes;
  readonly fingers?: boolean;
  /** Missing: `printed`. */
  readonly tempo?: 'printed' | 'sounding';
  /** Indexes of the bars that begin a new line. */
  readonly breaks?: readonly number[];
  /** Give notes and rests ids, `at-<index of the voice>-<ticks from the start>`, where a drawing is worked on; missing: none. */
  readonly ids?: boolean;
  /** Print the names of the parts before their staves; missing: true. */
  readonly names?: boolean;
  /**
   * Missing: `file`, the whole song, for other programs and to be read again. `engraving`: only what an engraver of
   * one system prints.
   */
  readonly purpose?: 'file' | 'engraving';
  /** Whose part it is, in words under the title; missing: none, and the title stands in its element alone. */
  readonly rubric?: string;
}
