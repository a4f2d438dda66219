import type { Score } from '../../score/score.ts';

/** Places in `Note.syllables` that some note has a syllable for, in order. */
export function sungLines(score: Pick<Score, 'voices' | 'verses'>): number[] {
  return score.verses
    .map((_, index) => index)
    .filter((index) =>
      score.voices.some(({ notes }) => notes.some((note) => note.syllables?.[index])),
    );
}
