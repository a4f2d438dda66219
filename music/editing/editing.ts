import { success, type Problem, type Result } from '../result.ts';
import { playedBars, SCORE_LIMITS } from '../score/limits.ts';
import type { Score } from '../score/score.ts';
import { BARS } from './bars.ts';
import { CHORDS } from './chords.ts';
import type { Edit, OneEdit } from './edit.ts';
import { FACTS } from './facts.ts';
import { TIME } from './give-time.ts';
import { KEYS } from './keys.ts';
import { METERS } from './meters.ts';
import { NOTES } from './notes.ts';
import { refused } from './refusal.ts';
import { sayOne } from './say.ts';
import { SECTIONS } from './sections.ts';
import { TEMPOS } from './tempos.ts';
import { VOICES } from './voices.ts';
import { WORDS } from './words.ts';

export type * from './edit.ts';
export { blank, type BlankSong } from './blank.ts';
export { after, before, stepped, type Cursor } from './step-entry.ts';
export { sayLength, sayPlace } from './place-words.ts';
export { stepsOf, textOf } from './syllables.ts';
export { verseForAll } from '../score/sung-verses.ts';
export { notesForWords, wordsBegin, wordsOf } from './words.ts';

type Deeds = {
  readonly [K in OneEdit['do']]: (
    score: Score,
    edit: Extract<OneEdit, { readonly do: K }>,
  ) => Result<Score>;
};

const DEEDS: Deeds = {
  ...NOTES,
  ...VOICES,
  ...WORDS,
  ...CHORDS,
  ...BARS,
  ...METERS,
  ...KEYS,
  ...TIME,
  ...SECTIONS,
  ...FACTS,
  ...TEMPOS,
};

/** Edits after which more may be played than before. */
const LENGTHENS: ReadonlySet<OneEdit['do']> = new Set([
  'insert bars',
  'remove bars',
  'pickup',
  'meter',
  'repeat',
  'give time',
  'begin section',
  'join section',
  'form',
  'words',
  'syllable',
  'remove verse',
] as const);

function applyOne(score: Score, edit: OneEdit): Result<Score> {
  // A draft that is kept may be of another version.
  if (!Object.hasOwn(DEEDS, edit.do)) return refused('This version does not know that edit.');
  const deed = DEEDS[edit.do] as (score: Score, edit: OneEdit) => Result<Score>;
  const result = deed(score, edit);
  const isTooLong = result.ok && LENGTHENS.has(edit.do) && playedBars(result.value) > SCORE_LIMITS.playedBars; // prettier-ignore
  if (!isTooLong) return result;
  return refused(`With its passes and repeats the song would be more than ${SCORE_LIMITS.playedBars} bars long.`); // prettier-ignore
}

const editsOf = (edit: Edit): readonly OneEdit[] => (edit.do === 'together' ? edit.edits : [edit]);

/**
 * A song with one thing done to it; the song itself stays as it is. What cannot be done is a failure whose sentence says
 * where and why. A song that holds together still does.
 */
export function apply(score: Score, edit: Edit): Result<Score> {
  const edits = editsOf(edit);
  if (edits.length === 0) return refused('There is nothing to be done.');
  const warnings: Problem[] = [];
  let edited = score;
  for (const each of edits) {
    const result = applyOne(edited, each);
    if (!result.ok) return result;
    warnings.push(...result.warnings);
    edited = result.value;
  }
  return success(edited, warnings);
}

/** Edits that are said one by one where they were done together. */
const MOST_SAID = 3;

/** What an edit does to that song, before it is done, as the line of undo says it: `Bar 3, beat 2: G4, a quarter`. */
export function say(score: Score, edit: Edit): string {
  const edits = editsOf(edit);
  const said: string[] = [];
  let before = score;
  for (const each of edits.slice(0, MOST_SAID)) {
    said.push(sayOne(before, each));
    const result = applyOne(before, each);
    if (!result.ok) break;
    before = result.value;
  }
  const rest = edits.length - said.length;
  return said.join('. ') + (rest > 0 ? `. And ${rest} more` : '');
}
