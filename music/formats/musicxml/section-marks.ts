import type { Score } from '../../score/score.ts';
import { foundSections, type SectionStart } from '../../score/sections.ts';
import { endOf } from '../../score/time.ts';
import { sungLines } from './sung-lines.ts';

/** Sections that the words alone show, where nothing names any: what a reader of the file concludes. */
export function unnamedSections(score: Score) {
  const melody = score.voices.find(({ id }) => id === score.melody) ?? score.voices[0];
  const { sections } = foundSections(
    [],
    melody?.notes ?? [],
    sungLines(score).length,
    endOf(score),
  );
  return sections;
}

/** The names of the sections with their places, to be written; none where there is but one and it is the verse. */
export function sectionMarks(score: Score): SectionStart[] {
  const [only] = unnamedSections(score);
  const single = score.sections.length === 1 && unnamedSections(score).length === 1;
  if (single && score.sections[0]?.name === only?.name) return [];
  return score.sections
    .map(({ from, name }) => ({ at: from, name: name.replace(/\s+/g, ' ').trim() }))
    .filter(({ name }) => name !== '');
}
