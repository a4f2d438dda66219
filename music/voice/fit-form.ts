import type { Interval } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import type { ArrangedPass } from '../parts/arrangement.ts';
import { raisedBy, sayUp, upOf } from '../parts/form/keys-of-form.ts';
import { namePasses } from '../parts/form/textures.ts';
import { passesOf, type NamedPass } from '../score/form.ts';
import { listed } from '../score/number-words.ts';
import type { Score } from '../score/score.ts';

/** All passes of a form that are sung the same number of half steps above the key of their song. */
export interface SungAt {
  readonly up: number;
  /** Ids of the sections that are sung there. */
  readonly sections: ReadonlySet<string>;
  /** `in verse 4, up a whole step`; empty where they stand in the key itself. */
  readonly where: string;
}

/**
 * The form by the keys that it is sung in, the song’s own key first, then as they come. Empty where every pass stands in
 * that key. Passes through sections that are gone do not count.
 * @param form of an arrangement; missing or null: as the song has it
 * @param isSung whether a section is sung, by its id
 */
export function sungAt(
  score: Score,
  form: readonly ArrangedPass[] | null | undefined,
  isSung: (section: string) => boolean,
): SungAt[] {
  const own = (form ?? score.form).filter((pass) =>
    score.sections.some(({ id }) => id === pass.section),
  );
  if (own.every((pass) => upOf(pass) === 0)) return [];
  const groups = new Map<number, NamedPass[]>();
  for (const each of passesOf({ ...score, form: own })) {
    if (!isSung(each.section.id)) continue;
    const up = upOf(each.pass);
    groups.set(up, [...(groups.get(up) ?? []), each]);
  }
  if ([...groups.keys()].every((up) => up === 0)) return [];
  return [...groups]
    .map(([up, passes]) => ({
      up,
      sections: new Set(passes.map(({ section }) => section.id)),
      where: up === 0 ? '' : `in ${sayPasses(passes)}, ${sayUp(up)}`,
    }))
    .sort((a, b) => Number(b.up === 0) - Number(a.up === 0));
}

/** `verse 4 and the refrain, fourth time`, section by section. */
function sayPasses(passes: readonly NamedPass[]): string {
  const sections = [...new Set(passes.map(({ section }) => section))];
  return listed(
    sections.map((section) => {
      const name = lowered(namePasses(passes.filter((each) => each.section === section)));
      return section.kind === 'verse' ? name : `the ${name}`;
    }),
  );
}

/** `verse` of `Verse`; a letter alone stays: `B`. */
const lowered = (text: string): string =>
  text.replace(/^\p{Lu}(?=\p{Ll})/u, (letter) => letter.toLowerCase());

/** From the written key to a key raised by some half steps. */
export function raisedFrom(home: Interval, key: Key, up: number): Interval {
  const { steps, semitones } = raisedBy(key, up);
  return { steps: home.steps + steps, semitones: home.semitones + semitones };
}

/** A sentence on one voice, and where in the song it holds: `In verse 4, up a whole step, too high for Ada: …` */
export function sayWhere(where: string, sentence: string): string {
  if (where === '') return sentence;
  return `${where.charAt(0).toUpperCase()}${where.slice(1)}, ${lowered(sentence)}`;
}
