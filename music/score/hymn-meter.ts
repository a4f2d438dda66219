import type { Score } from './score.ts';

export interface FoundMeter {
  /** Syllables of each line: `[8, 6, 8, 6]`. */
  readonly lines: readonly number[];
  /** `8.6.8.6`; null: the words have no lines that repeat from verse to verse, or there are none. */
  readonly meter: string | null;
  /** `CM`, `LM`, `SMD` …; null: it has no name. */
  readonly name: string | null;
  /** One sentence with verse and line. */
  readonly reason: string;
}

/** The hymn meter, from the syllables of the words. */
export function of(score: Score): FoundMeter {
  void score;
  return { lines: [], meter: null, name: null, reason: '' };
}
