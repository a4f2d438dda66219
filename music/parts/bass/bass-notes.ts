import type { PitchName } from '../../pitch/pitch.ts';
import type { Score, Section, Span, Ticks } from '../../score/score.ts';
import type { Texture } from '../arrangement.ts';
import { FIGURES, strikesInBar } from '../patterns.ts';
import type { PlayedChord } from '../played-chords.ts';

/** One note of the bass, however often it is struck, under the chord with which it begins. */
export interface HeldBass extends Span {
  readonly pitch: PitchName;
  readonly entry: PlayedChord;
}

/** Whose moments the bass strikes at: the right hand's, or in `swaying` the left's, which is the bass there. */
const WITH: Readonly<Record<Texture, Texture>> = {
  held: 'held',
  answered: 'held',
  leading: 'leading',
  'every beat': 'every beat',
  swaying: 'swaying',
  broken: 'every beat',
};

/**
 * Where the bass is struck in a bar whatever the chord does: as the keys are, but it holds under a soft answer, and
 * strikes the felt beats under broken chords. Without a meter only the bar line is left.
 */
export function strikesIn(score: Score, index: number, textureAt: (at: Ticks) => Texture): Ticks[] {
  const bar = score.bars[index];
  if (!bar) return [];
  const withRight = (at: Ticks) => WITH[textureAt(at)];
  const right = strikesInBar(score, index, withRight, FIGURES.right).filter(
    ({ at }) => withRight(at) !== 'swaying',
  );
  const left = strikesInBar(score, index, withRight, FIGURES.left).filter(
    ({ at }) => withRight(at) === 'swaying',
  );
  const moments = new Set([bar.at, ...[...right, ...left].map(({ at }) => at)]);
  return [...moments].sort((a, b) => a - b);
}

/** Chords cut where a section begins: it may be reached from elsewhere, and says its chord itself. */
export function inSections(
  chords: readonly PlayedChord[],
  sections: readonly Section[],
): PlayedChord[] {
  return chords.flatMap((chord) => {
    const end = chord.at + chord.length;
    const starts = sections.map(({ from }) => from).filter((at) => at > chord.at && at < end);
    return [chord.at, ...starts].map((at, i): PlayedChord => ({
      ...chord,
      at,
      length: (starts[i] ?? end) - at,
    }));
  });
}
