import { QUARTER, type Ticks } from './score.ts';

/**
 * What no song reaches, so that whatever is sent or written stays quick to read, draw and keep. Our own figures: the
 * longest hymns have some two hundred bars, an oratorio chorus a few hundred.
 */
export const SCORE_LIMITS = {
  bars: 2_000,
  /** Sixteen whole notes: free chant is one long bar. */
  barLength: (64 * QUARTER) as Ticks,
  voices: 16,
  notes: 20_000,
  chords: 10_000,
  verses: 99,
  sections: 200,
  passes: 400,
  pitches: 12,
  /** Letters of a name, a syllable, a line, and of what the source says beside. */
  name: 200,
  line: 1_000,
  text: 20_000,
  beats: 64,
  unit: 64,
  /** More endings than these are more verses than anybody sings. */
  endings: 99,
} as const;
