import type { Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { BARS } from './bars.ts';
import { CHORDS } from './chords.ts';
import type { Edit } from './edit.ts';
import { NOTES } from './notes.ts';
import { refused } from './refusal.ts';
import { SECTIONS } from './sections.ts';
import { WORDS } from './words.ts';

export type * from './edit.ts';

type Deeds = {
  readonly [K in Edit['do']]: (
    score: Score,
    edit: Extract<Edit, { readonly do: K }>,
  ) => Result<Score>;
};

const DEEDS: Partial<Deeds> = { ...NOTES, ...WORDS, ...CHORDS, ...BARS, ...SECTIONS };

/**
 * A song with one thing done to it; the song itself stays as it is. What cannot be done is a failure whose sentence
 * names bar and beat.
 */
export function apply(score: Score, edit: Edit): Result<Score> {
  const deed = DEEDS[edit.do] as ((score: Score, edit: Edit) => Result<Score>) | undefined;
  return deed ? deed(score, edit) : refused(`That cannot be done yet: ${edit.do}.`);
}
