import type { Says } from '../pitch/says.ts';
import type { Interval } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import type { ArrangedPass } from '../parts/arrangement.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Compass } from '../score/score.ts';
import type { Octave, OctaveChoice, Range, Singer } from './range.ts';
import type { SongTessitura } from './tessitura.ts';

/**
 * `easy`: nothing outside the comfortable range, little at its ends, and the middle of the tune in the middle half of
 * the range. `works`: nothing outside. `edge`: a little outside, briefly. `outside`: not for this voice.
 */
export const VERDICTS = ['easy', 'works', 'edge', 'outside'] as const;
export type Verdict = (typeof VERDICTS)[number];

/** How a tune in one key lies in one voice. Pitches are sounding. */
export interface Fit {
  readonly low: PitchName;
  readonly high: PitchName;
  /** Semitones between the voice's comfortable lowest note and the tune's; below zero: the tune goes lower. */
  readonly lowerReserve: number;
  /** Semitones between the tune's highest note and the voice's; below zero: the tune goes higher. */
  readonly upperReserve: number;
  /**
   * Tessitura shift: (lower reserve − upper reserve) / 2 in semitones; above zero the tune lies high in the voice
   * (Herbst et al. 2012, International Journal of Research in Choral Singing 5 (1)). It knows nothing of time.
   */
  readonly shift: number;
  /** Share of the sung time outside the comfortable range, 0–1; `shareAbove` and `shareBelow` are its two parts. */
  readonly shareOutside: number;
  readonly shareAbove: number;
  readonly shareBelow: number;
  /** Share of the sung time within a half step of the comfortable range's highest note, or above. */
  readonly shareAtTop: number;
  /** Share of the sung time within a half step of the lowest note, or below. */
  readonly shareAtBottom: number;
  /** Mean pitch over time, sounding: semitones, C4 = 60. */
  readonly mean: number;
  /** The mean less the middle of the comfortable range, in semitones: where the tune lies, weighted by time. */
  readonly meanOffset: number;
  readonly verdict: Verdict;
}

export interface SectionFit extends Fit {
  readonly section: string;
  readonly name: string;
  readonly octave: Octave;
}

/** One voice in one key, of a tune that is written. */
export interface FitRow extends Fit {
  readonly known: 'melody';
  readonly key: Key;
  /** From the written key. */
  readonly interval: Interval;
  /** Id of the singer. */
  readonly voice: string;
  readonly name: string;
  /** `free`: not the same in every section; `perSection` says which where. */
  readonly octave: Octave | 'free';
  readonly perSection: readonly SectionFit[];
  /** One sentence: bar, pitch, beats. */
  readonly reason: string;
  /** `in verse 4, up a whole step`, where all of it tells of those passes alone. Missing: of the key itself. */
  readonly where?: string;
}

/**
 * One voice in one key, of a tune that is not written: a person gave its lowest and highest note. How long it lies
 * anywhere is not known, so nothing here is weighted by time.
 */
export interface EndsRow
  extends
    Pick<Fit, 'low' | 'high' | 'lowerReserve' | 'upperReserve' | 'shift' | 'verdict'>,
    Pick<FitRow, 'key' | 'interval' | 'voice' | 'name' | 'reason' | 'where'> {
  readonly known: 'ends';
  readonly octave: Octave;
  /** Where it lies most of the time, sounding, as it was given: it is taken for the middle half of its time. */
  readonly mostly: Range | null;
}

/** What is known of one voice in one key, by whichever way. */
export type VoiceRow = FitRow | EndsRow;

export interface KeyFitTable {
  readonly written: Key;
  /** Printed sharps (positive) or flats (negative) of the written key. */
  readonly signature: number;
  readonly keys: readonly Key[];
  readonly voices: readonly Singer[];
  /** Key by key in the order of `keys`, in each key voice by voice. Empty where no tune is written. */
  readonly rows: readonly FitRow[];
  /** The same, in the same order, where no tune is written and a person gave its lowest and highest note. */
  readonly ends: readonly EndsRow[];
  /**
   * Of `rows` or `ends`, in their order, how each voice is in the passes where it has it worst; its key is that of the song
   * all the same. Missing: no pass of the form is raised.
   */
  readonly worst?: readonly VoiceRow[];
  /** What that person gave, in the written key; null: a tune is written, or nobody gave anything. */
  readonly compass: Compass | null;
  /** The tune as written; null where the song has none. */
  readonly tessitura: SongTessitura | null;
}

export interface KeyFitOptions {
  /** Missing: the twelve usual spellings in the song's mode, the written key as it is written. */
  readonly keys?: readonly Key[];
  /** Where the new tonic lies from the written one; missing: the nearest. */
  readonly direction?: 'nearest' | 'up' | 'down';
  /** By singer's id: one octave for the song, or by section's id. It goes before what the singer usually reads. */
  readonly octaves?: Readonly<
    Record<string, OctaveChoice | Readonly<Record<string, OctaveChoice>>>
  >;
  /** Id of the voice that is sung; missing: the tune. */
  readonly voice?: string;
  /** Of the arrangement, with the passes that are raised; missing or null: as the song has it. */
  readonly form?: readonly ArrangedPass[] | null;
  /** How the reasons call notes; missing: in English. */
  readonly says?: Says;
}
