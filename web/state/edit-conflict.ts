import type { Score } from '#music';
import type { Song } from '#server/contract/songs.ts';
import { differences, type Differences } from './edit-differences.ts';
import type { History, Step } from './edit-history.ts';
import { together, type Together } from './edit-together.ts';
import { named } from './edit-words.ts';

/** Two states of one song, of which one must be chosen, or both where they can be laid together. */
export interface Conflict extends Differences {
  readonly saved: Song;
  /** null: they get in each other's way, or it is not known what both began from. */
  readonly both: (Together & { readonly marked: readonly number[] }) | null;
}

export type Choice = 'mine' | 'theirs' | 'both';

/** @param base what both began from; null: not known */
export function conflictOf(
  mine: { readonly score: Score; readonly history: History },
  saved: Song,
  base: Score | null,
): Conflict {
  const laid = base && together(base, mine, saved.score);
  const both = laid && base ? { ...laid, marked: differences(laid.score, base).mine } : null;
  return { saved, both, ...differences(named(mine.score), saved.score) };
}

/** What choosing does, step by step: whatever is not chosen is one or a few steps of undo away. */
export function chosen(
  { saved, both }: Conflict,
  mine: Score,
  choice: Choice,
): readonly { readonly step: Step; readonly score: Score }[] {
  const take = (score: Score, words: string) => ({ score, step: { words, by: { score } } });
  if (choice === 'theirs') return [take(saved.score, 'the saved one taken')];
  const theirs = take(saved.score, 'the song as it was saved meanwhile');
  return choice === 'mine' ? [theirs, take(mine, 'my own kept')] : [theirs, ...(both?.steps ?? [])];
}
