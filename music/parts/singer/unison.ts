import { passesOf, type NamedPass } from '../../score/form.ts';
import type { Pass, Score, Section } from '../../score/score.ts';
import type { ArrangedPass } from '../arrangement.ts';
import { namePasses } from '../form/textures.ts';
import { writtenOut } from '../form/written-out.ts';

const isUnison = (pass: Pass): boolean => (pass as ArrangedPass).unison === true;

/** A song whose passes in unison and in parts stand apart, for who sings beside the tune. */
export interface UnisonSong {
  readonly score: Score;
  /** Ids of the sections in which everybody sings the tune. */
  readonly unison: ReadonlySet<string>;
}

/**
 * A section that is sung in unison and in parts is written out once for each, where it can be (see `writtenOut`: not in the
 * middle of a bar or under repeats); where it cannot, it stands in parts, and words say which passes are in unison.
 */
export function withUnison(song: Score): UnisonSong {
  const passes = passesOf(song);
  const sung = (id: string): boolean[] => [
    ...new Set(passes.flatMap(({ pass, section }) => (section.id === id ? [isUnison(pass)] : []))),
  ];
  const all = song.sections.filter(({ id }) => sung(id).join() === 'true').map(({ id }) => id);
  const isMixed = song.sections.some(({ id }) => sung(id).length === 2);
  if (!isMixed) return { score: song, unison: new Set(all) };
  // The two ways of singing stand for two textures, so that copies are made as players' are.
  const marked = passes.map(({ pass }): ArrangedPass => ({
    section: pass.section,
    verse: pass.verse,
    texture: isUnison(pass) ? 'held' : 'every beat',
  }));
  const { score, textures } = writtenOut({ ...song, form: marked });
  const own = score.sections.filter(
    ({ id, copyOf }) => all.includes(id) || (copyOf !== undefined && textures.get(id) === 'held'),
  );
  const form = passes.map(({ pass }, i): Pass => ({
    ...pass,
    section: score.form[i]?.section ?? pass.section,
  }));
  return { score: { ...score, form }, unison: new Set(own.map(({ id }) => id)) };
}

/** Whether everybody sings the tune all through. */
export const isAllUnison = ({ score, unison }: UnisonSong): boolean =>
  passesOf(score).every(({ section }) => unison.has(section.id));

const lower = (passes: readonly NamedPass[]): string => namePasses(passes).toLocaleLowerCase();

/**
 * Beside each section, where passes of the song are in unison: `in unison: everybody sings the tune`, `in parts`, each where it
 * changes, or where a section has both, which passes are which.
 * @param beside whether it is said to who sings beside the tune
 */
export function sayUnison(song: Score, beside: boolean): (section: Section) => string[] {
  const passes = passesOf(song);
  if (!passes.some(({ pass }) => isUnison(pass))) return () => [];
  let said = '';
  return (section) => {
    const own = passes.filter((each) => each.section.id === section.id);
    const together = own.filter(({ pass }) => isUnison(pass));
    const apart = own.filter(({ pass }) => !isUnison(pass));
    if (own.length === 0) return [];
    const tune = beside ? 'in unison: sing the tune' : 'in unison: everybody sings the tune';
    const words =
      apart.length === 0
        ? tune
        : together.length === 0
          ? 'in parts'
          : `${lower(together)} ${tune}; ${lower(apart)} in parts`;
    if (words === said) return [];
    said = words;
    return [words];
  };
}
