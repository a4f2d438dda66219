import type { Chord } from '../pitch/chord.ts';
import type { NamedNotes } from '../pitch/note-names.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Score, Ticks } from '../score/score.ts';
import type { Level } from './level.ts';
import type { Rungs } from './rungs.ts';

export type Role = 'keys' | 'bass' | 'guitar' | 'drums' | 'lead voice' | 'harmony voice' | 'leader';

/** What one person plays in one song, ready to be engraved, shown, printed and practised. */
export interface Part {
  readonly role: Role;
  readonly level: Level;
  /** What its player calls notes and chords; missing: `english`. */
  readonly names?: NamedNotes;
  /** At the keys: the steps of the ladders that are played all through; missing: the first of each. */
  readonly rungs?: Rungs;
  /**
   * The staves to print: for keys `melody` (group `Singer`), `right` and `left` (group `Keyboard`), with chords; for
   * the bass `bass`, whose words are those of `melody`; for singers `melody` without chords, and for a harmony voice beside
   * it `tune`, which is heard and not printed. Pitches are what sounds.
   */
  readonly score: Score;
  /** Ids of the voices that are printed; missing: all. The first of them has the words. */
  readonly printed?: readonly string[];
  /** For a harmony voice, what it sings, for the heading: `the written alto`, `made under the tune`; missing: the tune. */
  readonly line?: string;
  /** The tempo is that of a file, which nobody confirmed; missing: somebody set it. */
  readonly tempoFrom?: 'file';
  /** The right hand's shapes, chord by chord, in the order they first appear. */
  readonly shapes: readonly PartShape[];
  /** Each change of shape, in order. */
  readonly moves: readonly PartMove[];
  /** Rubric for each section, in order: how it is played, what was said before left out. */
  readonly directions: readonly PartDirection[];
  /** `count 1 2 3 | 1 2 (sing)`. */
  readonly countIn: string;
  /** What is new and that it is enough: `four shapes: G, C, D7, Em; one note moves at a time; all of it enough for Sunday`. */
  readonly summary: string;
  /** In which order everything is played: `introduction once, then verses 1 to 5`. */
  readonly order: string;
  /** What to play before the singing, and the singers' first note, in words. */
  readonly introduction: string;
  /** The hardest changes, the hardest first: where they are, how long there is, how the hand goes. */
  readonly practice: readonly string[];
  /** For the hands: where the widest shape lies, and what to do when something hurts. */
  readonly cautions: readonly string[];
  /** For the bass: its line in degrees of the key, section by section, four bars to a line: `1 5 | 4 ♯4 | 5 | 1`. */
  readonly numbers?: readonly PartDirection[];
  /** For the bass: the notes to find, string by string, and how they are written; for the head of its sheet. */
  readonly neck?: readonly string[];
}

export interface PartShape {
  readonly chord: Chord;
  /** Where it first sounds. */
  readonly at: Ticks;
  readonly notes: readonly PitchName[];
  readonly fingers: readonly number[];
  /** Where it first sounds; later the left hand may play another octave. */
  readonly left: { readonly notes: readonly PitchName[]; readonly fingers: readonly number[] };
  /** How the hand gets there, as a teacher says it: `3 stays; 1 up a step, 5 up a half step`. */
  readonly words: string;
}

export interface PartMove {
  readonly at: Ticks;
  /** Indexes into `shapes`. */
  readonly from: number;
  readonly to: number;
  readonly words: string;
  /** Semitones. */
  readonly motion: number;
  /** 0 and up; itemised by `Difficulty.ofMove`. */
  readonly difficulty: number;
}

export interface PartDirection {
  readonly section: string;
  readonly words: readonly string[];
}
