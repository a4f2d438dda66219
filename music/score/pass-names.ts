import { listed } from './number-words.ts';
import type { Pass, Score, Section } from './score.ts';
import { wordedIn } from './sung-verses.ts';

type Named = Pick<Section, 'name' | 'ownName'>;

/** What the section itself is called, of a copy that is named by its passes too: `Verse`. */
export const ownNameOf = ({ name, ownName }: Named): string => ownName ?? name;

/** The number that a section's name ends with: `Strophe 2` → 2; null: none. */
function numberOf(section: Named): number | null {
  const [, digits] = /(?<!\d)(\d{1,3})\.?$/.exec(ownNameOf(section).trim()) ?? [];
  return digits === undefined ? null : Number(digits);
}

/**
 * A section with the verse that is sung in it: `Verse 2`. A name that ends with that number has it already, and one that
 * ends with another says which is which: `Strophe 1`, `Strophe 1, verse 2`.
 * @param verse null: none of its own
 */
export function namePass(section: Named, verse: number | null): string {
  return verse === null ? section.name : nameVerses(section, [verse]);
}

/**
 * The verse of a pass as it is said with its section; null: none. Where a section is called by another number and only
 * one verse has words there, which one says nothing: `Strophe 2` with the words of verse 1 is the second strophe.
 */
export function verseSaid(score: Score, { section: id, verse }: Pass): number | null {
  const section = score.sections.find((each) => each.id === id);
  if (verse === null || !section) return verse;
  const own = numberOf(section);
  if (own === null || own === verse) return verse;
  const worded = wordedIn(score, section).map((index) => score.verses[index]?.number);
  const passed = new Set(score.form.flatMap((pass) => (pass.section === id ? [pass.verse] : [])));
  return worded.every((number) => number === verse) && passed.size < 2 ? null : verse;
}

/** The same of several verses in order, at least one: `Verses 1 to 3`, `Strophe 1, verses 2 and 3`. */
export function nameVerses(section: Named, verses: readonly number[]): string {
  const name = ownNameOf(section);
  const own = numberOf(section);
  if (verses.every((verse) => verse === own)) return name;
  const [first = 1] = verses;
  const many = verses.length > 1 ? 's' : '';
  const inRow = verses.length > 2 && verses.every((verse, i) => verse === first + i);
  const numbers = inRow ? `${first} to ${first + verses.length - 1}` : listed(verses.map(String));
  return own === null ? `${name}${many} ${numbers}` : `${name}, verse${many} ${numbers}`;
}
