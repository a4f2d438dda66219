import type { Section, Ticks } from '../../score/score.ts';
import { foundSections, sayRefrain, type SectionStart } from '../../score/sections.ts';
import type { Report } from '../report.ts';
import type { ReadNote } from './layer.ts';

/** Sections as the tune names them, or as its words show them, which is told. */
export function findSections(
  named: readonly SectionStart[],
  notes: readonly ReadNote[],
  verses: number,
  end: Ticks,
  report: Report,
): Section[] {
  const { sections, refrain } = foundSections(named, notes, verses, end);
  if (refrain) {
    const line = notes.find(({ at }) => at === refrain.at)?.line ?? 1;
    report.warn(refrain.missing === null ? 'guess-refrain' : 'words-missing', sayRefrain(refrain), {
      line,
    });
  }
  return sections;
}
