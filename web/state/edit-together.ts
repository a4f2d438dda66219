import type { Score } from '#music';
import { alike, BESIDES, contents } from './edit-differences.ts';
import { after, stepsSince, type History, type Step } from './edit-history.ts';
import { named } from './edit-words.ts';

/** What two people did to one song, one after the other. */
export interface Together {
  readonly score: Score;
  /** What I did, done again on theirs, each with the song after it. */
  readonly steps: readonly { readonly step: Step; readonly score: Score }[];
}

/** Indexes of the bars in which two songs of as many bars differ; null: their bars are others. */
function changedBars(a: Score, b: Score): readonly number[] | null {
  const lengths = ({ bars }: Score): unknown => bars.map(({ at, length }) => [at, length]);
  if (!alike(lengths(a), lengths(b))) return null;
  const [here, there] = [contents(a), contents(b)];
  return here.flatMap((content, index) => (content === there[index] ? [] : [index]));
}

/** Whether what both has of one thing is what the only one who changed it made of it. */
function isOneOfThem(base: unknown, mine: unknown, theirs: unknown, both: unknown): boolean {
  if (alike(mine, base)) return alike(both, theirs);
  return alike(both, mine) && (alike(theirs, base) || alike(theirs, mine));
}

/** Whether every bar is as the one who changed it has it, and nobody changed one that the other did. */
function barsAreWhole(base: Score, mine: Score, theirs: Score, both: Score): boolean {
  const byThem = changedBars(theirs, base);
  const notMine = changedBars(both, mine);
  if (!byThem || !notMine) return false;
  const [their, laid] = [contents(theirs), contents(both)];
  return alike(
    notMine.map((index) => laid[index]),
    byThem.map((index) => their[index]),
  );
}

/**
 * What I did since a state, done again on what another made of it. Null where that is not plainly both: where a step
 * cannot be done there, where both changed one bar or one thing besides, or where theirs has other bars than that state.
 * @param base what both began from
 */
export function together(
  base: Score,
  mine: { readonly score: Score; readonly history: History },
  theirs: Score,
): Together | null {
  const since = stepsSince(mine.history, mine.score, (score) => alike(named(score), base));
  if (!since) return null;
  let score = theirs;
  const steps: { step: Step; score: Score }[] = [];
  for (const step of since) {
    // A song that was laid anew as a whole would write over theirs.
    const next = 'edits' in step.by ? after(score, step) : null;
    if (!next) return null;
    score = next;
    steps.push({ step, score });
  }
  const own = named(mine.score);
  const besides = BESIDES.every(([, of]) => isOneOfThem(of(base), of(own), of(theirs), of(named(score)))); // prettier-ignore
  return besides && barsAreWhole(base, own, theirs, score) ? { score, steps } : null;
}
