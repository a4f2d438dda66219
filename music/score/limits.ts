import { passesOf } from './form.ts';
import { QUARTER, type Score, type Ticks } from './score.ts';

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
  /** Of all passes, with repeats and endings written out: hours of music. */
  playedBars: 20_000,
  pitches: 12,
  /** Letters of a name or syllable that is typed, of a line, and of what the source says beside. */
  name: 200,
  line: 1_000,
  text: 20_000,
  beats: 64,
  unit: 64,
  /** More endings than these are more verses than anybody sings. */
  endings: 99,
} as const;

/** How many bars are played at most, over all passes: repeats count twice, or as often as endings are numbered. */
export function playedBars(score: Score): number {
  const bySection = new Map<string, number>();
  for (const { id, from, to } of score.sections) {
    const bars = score.bars.filter(({ at, length }) => at < to && at + length > from);
    const rounds = bars.reduce(
      (most, { endings, repeatEnd }) => Math.max(most, repeatEnd ? 2 : 1, ...endings),
      1,
    );
    bySection.set(id, bars.length * rounds);
  }
  return passesOf(score).reduce((sum, { section }) => sum + (bySection.get(section.id) ?? 0), 0);
}
