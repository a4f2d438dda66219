import type { PitchName } from '../pitch/pitch.ts';
import type { Note, Score, Section, Span, Ticks } from '../score/score.ts';
import type { Texture } from './arrangement.ts';
import { FIGURES, strikesInBar } from './patterns.ts';
import type { PlayedChord } from './played-chords.ts';

/** One bass note under its chord, from where to where. */
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

/**
 * The notes of a bass: each chord's note is struck where the chord begins and where its bar is struck again, and lasts
 * until it is struck next; rests fill what is left, bar by bar.
 * @param held in order, not overlapping
 */
export function bassNotes(
  score: Score,
  held: readonly HeldBass[],
  textureAt: (at: Ticks) => Texture,
): Note[] {
  const notes: Note[] = [];
  score.bars.forEach((bar, index) => {
    const end = bar.at + bar.length;
    const strikes = strikesIn(score, index, textureAt);
    let at = bar.at;
    const rest = (to: Ticks) => {
      if (to > at) notes.push({ at, length: to - at, pitches: [] });
      at = Math.max(at, to);
    };
    for (const { from, to, pitch } of held) {
      if (to <= bar.at || from >= end) continue;
      rest(Math.max(from, bar.at));
      const until = Math.min(to, end);
      const starts = [at, ...strikes.filter((each) => each > at && each < until)];
      starts.forEach((start, i) => {
        notes.push({ at: start, length: (starts[i + 1] ?? until) - start, pitches: [pitch] });
      });
      at = until;
    }
    rest(end);
  });
  return notes;
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
