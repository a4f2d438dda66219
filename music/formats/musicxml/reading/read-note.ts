import type { PitchName } from '../../../pitch/pitch.ts';
import type { Ticks } from '../../../score/score.ts';

/** One pitch of a note that is read. */
export interface ReadPitch {
  readonly name: PitchName;
  readonly finger: number | null;
  /** Tied on to the next note. */
  readonly tied: boolean;
}

/** A syllable under a note, with the verse as the file names it. */
export interface ReadLyric {
  readonly verse: string;
  readonly text: string;
  readonly hyphen: boolean;
}

/** A note or rest as the file has it, in its measure; what follows it in the file may still add to it. */
export interface ReadNote {
  readonly measure: number;
  /** From the beginning of its measure. */
  readonly at: Ticks;
  length: Ticks;
  readonly voice: string;
  readonly staff: number;
  readonly line: number;
  readonly pitches: ReadPitch[];
  readonly lyrics: ReadLyric[];
  readonly slurStarts: string[];
  readonly slurStops: string[];
  readonly grace: PitchName[];
  readonly signs: string[];
  fermata: boolean;
  beam: boolean;
  tuplet: { readonly actual: number; readonly normal: number } | null;
  hidden: boolean;
  /** Struck exactly as softly as our own writer has it; how hard others play says nothing of its neighbours. */
  soft: boolean;
  /** A rest that fills its measure, however long that is. */
  readonly wholeMeasure: boolean;
  /** Only goes on with the note before it, as our own writer marks it. */
  readonly goesOn: boolean;
  above: string[];
  pedal: 'down' | 'up' | 'change' | null;
}
