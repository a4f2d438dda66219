import type { Interval } from '../pitch/interval.ts';
import type { Tempo } from '../score/score.ts';
import type { FitRow } from './fit-row.ts';
import type { Octave } from './range.ts';
import type { PlacedNote } from './sung-phrases.ts';

/** Where a note lies in a comfortable range; `at the top`: its highest note or a half step below it. */
export type Place = 'above' | 'at the top' | 'inside' | 'at the bottom' | 'below';

/** A note as one voice sings it in one key. Pitches are sounding. */
export interface NoteInVoice extends PlacedNote {
  readonly octave: Octave;
  readonly place: Place;
  /** Index of the phrase it is sung in. */
  readonly phrase: number;
}

/** The notes that are held for two felt beats or more. */
export interface LongNotes {
  readonly count: number;
  /** Of them: within a half step of the comfortable range's highest note, or above; `above` is a part of them. */
  readonly atTop: number;
  readonly above: number;
  readonly atBottom: number;
  readonly below: number;
  /** Of those at the top or above the longest; of equals the highest, then the first. null: none lies there. */
  readonly longestHigh: NoteInVoice | null;
  readonly longestLow: NoteInVoice | null;
}

/** From one note to the next that is sung, whether or not there is a rest between them. */
export interface Leap {
  readonly from: NoteInVoice;
  readonly to: NoteInVoice;
  /** Sounding; down is negative. */
  readonly interval: Interval;
  /** What stands between the two notes; null: nothing. */
  readonly over: 'rest' | 'breath' | null;
}

/** The phrase that takes longest: in seconds where the tempo is known for every phrase, else in felt beats. */
export interface LongestPhrase {
  /** Number of the bar it begins in, 0: the pickup, and of the bar it ends in. */
  readonly fromBar: number;
  readonly toBar: number;
  /** Felt beats, times `FELT_BEAT`. */
  readonly felt: number;
  /** null: no tempo is said for all of it. */
  readonly seconds: number | null;
  /** The tempo it begins in, in the note that is counted; null: none is said. */
  readonly tempo: Tempo | null;
  /** Whether a fermata in it takes longer than that. */
  readonly fermata: boolean;
}

/** What a stretch of the tune asks of a voice. */
export interface Asked {
  readonly long: LongNotes;
  /** The biggest; of equals one with nothing between its notes, then the first. null: there is one pitch only. */
  readonly leap: Leap | null;
  readonly phrase: LongestPhrase;
}

export interface SectionAsked extends Asked {
  readonly section: string;
  readonly name: string;
}

/** What the tune asks of one voice in one key, besides how it lies there. */
export interface Demands extends Asked {
  readonly row: FitRow;
  readonly notes: readonly NoteInVoice[];
  /** Whether a rest or a breath stands anywhere in the tune. */
  readonly breathes: boolean;
  /** In the order of the score. A leap belongs to the section of its second note, a phrase to that of its first. */
  readonly perSection: readonly SectionAsked[];
  /** Who sings which section an octave below, in a sentence; empty: nobody does. */
  readonly octaves: string;
  /** Long notes, leap and longest breath, a sentence each, with bars. */
  readonly sentences: readonly string[];
}
