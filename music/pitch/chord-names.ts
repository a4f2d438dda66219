import { parts } from './chord-writer.ts';
import type { Chord } from './chord.ts';
import type { Key } from './key.ts';
import { say as sayName, type NamedNotes } from './note-names.ts';
import type { NoteName } from './pitch.ts';

/** Figures that stand higher, by their values. */
export const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** A figure right after a degree would make another number of it, so it is raised, as on number charts: G7 in C is `5⁷` (common practice). */
const raised = (body: string): string =>
  body.replace(/^\d+/, (figures) =>
    figures.replaceAll(/\d/g, (each) => RAISED[Number(each)] ?? ''),
  );

/**
 * A chord symbol for people, in their names of notes: `B♭7/D`, `B7/D`, `Si♭7/Re`; as numbers the root and the bass are
 * degrees of the key: G/B in C is `5/7`, B♭ is `♭7`, Dm7 `2m7`, G7 `5⁷`. What follows the root is as it always is.
 * @param key what numbers are counted in; in minor its tonic is 1
 */
export function symbolIn(chord: Chord, names: NamedNotes, key: Key): string {
  const { root, body, bass } = parts(chord);
  if (root === 'N.C.') return root;
  const name = (note: NoteName): string => sayName(note, names, key);
  const signs = body
    .replaceAll('#', '♯')
    .replaceAll(/b+(?=\d)/g, (flats) => '♭'.repeat(flats.length));
  const after = names === 'numbers' ? raised(signs) : signs;
  return name(root) + after + (bass === '' ? '' : `/${name(bass)}`);
}
