import { degreeOf } from '../../pitch/key.ts';
import { noteOf, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Span, Ticks } from '../../score/score.ts';
import { keyAt } from '../../score/time.ts';
import type { PartDirection } from '../part.ts';

/** Bars in a line of numbers (common practice: four). */
const BARS = 4;

/** The degree of a note in the key there, with its accidental before it: `5`, `♭7`, `♯4`. */
export function sayDegree(score: Score, at: Ticks, pitch: PitchName): string {
  const { degree, alter } = degreeOf(keyAt(score, at).key, noteOf(pitch));
  return (alter < 0 ? '♭'.repeat(-alter) : '♯'.repeat(alter)) + `${degree}`;
}

/**
 * A line in numbers, section by section, four bars to a line: `1 5 | 4 ♯4 | 5 | 1`. What is only struck again is named once
 * in its bar; `–` is a bar of rest.
 */
export function numbersOf(
  score: Score,
  notes: readonly (Span & { readonly pitch: PitchName })[],
): PartDirection[] {
  return score.sections.map((section) => {
    const bars = score.bars.filter(
      (bar) => bar.at < section.to && bar.at + bar.length > section.from,
    );
    const said = bars.map(({ at, length }) => {
      const from = Math.max(at, section.from);
      const to = Math.min(at + length, section.to);
      const here = notes.filter((note) => note.from >= from && note.from < to);
      const degrees = here.map((note) => sayDegree(score, note.from, note.pitch));
      const changes = degrees.filter((each, i) => i === 0 || each !== degrees[i - 1]);
      return changes.length === 0 ? '–' : changes.join(' ');
    });
    const lines = Array.from({ length: Math.ceil(said.length / BARS) }, (_, i) =>
      said.slice(i * BARS, (i + 1) * BARS).join(' | '),
    );
    return { section: section.id, words: lines };
  });
}
