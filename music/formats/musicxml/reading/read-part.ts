import type { Chord } from '../../../pitch/chord.ts';
import { UNISON, type Interval } from '../../../pitch/interval.ts';
import type { Meter, Ticks, Voice } from '../../../score/score.ts';
import type { ReadKey } from './attributes.ts';
import type { Said } from './direction-reader.ts';
import type { ReadNote } from './read-note.ts';

/** A moment of a part: a measure, counted from 0, and how far in. */
export interface Moment {
  readonly measure: number;
  readonly at: Ticks;
  readonly line: number;
}

/** One measure of a part: how it is named, how long it is, and the lines at its ends. */
export interface ReadMeasure {
  readonly number: string;
  readonly implicit: boolean;
  readonly line: number;
  /** How far its notes and its steps forward reach. */
  extent: Ticks;
  /** How far its notes and rests reach. */
  sounds: Ticks;
  hasPitches: boolean;
  /** How long its rests for the whole measure say they are; they give way. */
  restExtent: Ticks;
  leftStyle: string | null;
  rightStyle: string | null;
  repeatStart: boolean;
  repeatEnd: boolean;
  endingStart: readonly number[] | null;
  endingStop: boolean;
}

export interface ReadPart {
  readonly id: string;
  readonly measures: ReadMeasure[];
  readonly notes: ReadNote[];
  readonly keys: (Moment & { readonly key: ReadKey })[];
  readonly meters: (Moment & { readonly meter: Meter })[];
  readonly chords: (Moment & { readonly chord: Chord | null })[];
  readonly said: (Moment & {
    readonly said: Said;
    readonly voice: string | null;
    readonly staff: number;
  })[];
  /** By staff, the first that stands there. */
  readonly clefs: Map<number, Voice['clef'] | 'other'>;
  staves: number;
  transpose: Interval;
  /** What the part says and no score holds: `dynamics`, `wedge` … */
  readonly leftOut: Set<string>;
  unpitched: number;
  cues: number;
}

/** A part of which nothing is read yet. */
export function newPart(id: string): ReadPart {
  return {
    id,
    measures: [],
    notes: [],
    keys: [],
    meters: [],
    chords: [],
    said: [],
    clefs: new Map(),
    staves: 1,
    transpose: UNISON,
    leftOut: new Set(),
    unpitched: 0,
    cues: 0,
  };
}
