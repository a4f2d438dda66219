import { ENGLISH, type Says } from '../pitch/says.ts';
import { passesOf, type NamedPass } from './form.ts';
import { listed } from './number-words.ts';
import { nameVerses, ownNameOf } from './pass-names.ts';
import type { Score, Section } from './score.ts';
import { keyAt } from './time.ts';

const TIMES = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
  'eleventh',
  'twelfth',
] as const;

/** Passes through one section by name: `Verses 1 and 2`, `Refrain, third time`, `Verse`. */
export function namePasses(passes: readonly NamedPass[]): string {
  const [first] = passes;
  if (!first) return '';
  const name = ownNameOf(first.section);
  const verses = passes.flatMap(({ verse }) => verse ?? []);
  const named = nameVerses(first.section, verses);
  if (verses.length < passes.length || (passes.length > 1 && named === name)) {
    const times = passes.map(({ time }) => TIMES[time - 1] ?? `${time}th`);
    return `${name}, ${listed(times)} time`;
  }
  return named;
}

/** A section by its name, a copy in another key by the passes that read it: `Verse 4`. */
export function namedByPasses(score: Score, section: Section): string {
  if (section.up === undefined) return section.name;
  const own = passesOf(score).filter((each) => each.section.id === section.id);
  return namePasses(own) || section.name;
}

/**
 * A section as it is printed: by its name, and a copy in another key by the passes that read it and that key: `Verse 4, in
 * G major`.
 */
export function printedName(score: Score, section: Section, says: Says = ENGLISH): string {
  const name = namedByPasses(score, section);
  return section.up ? `${name}, in ${says.key(keyAt(score, section.from).key)}` : name;
}
