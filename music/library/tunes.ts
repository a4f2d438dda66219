import type { PitchName } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';

/** What a tune is found by, whatever its key: semitones from each note to the next. */
export interface TuneSign {
  readonly steps: readonly number[];
}

export interface TuneMatch {
  /** Index into the tunes that were asked. */
  readonly tune: number;
  /** 0: note for note; each note that is another, too many or missing adds to it. */
  readonly distance: number;
  /** Index of the first matched note of the tune. */
  readonly from: number;
}

export function signOf(score: Score): TuneSign {
  void score;
  return { steps: [] };
}

/** The tunes that begin like these notes, or hold them, the most like first. */
export function find(
  notes: readonly PitchName[],
  tunes: readonly TuneSign[],
  most = 10,
): TuneMatch[] {
  void notes;
  void tunes;
  void most;
  return [];
}
