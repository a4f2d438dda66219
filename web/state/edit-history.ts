import { Editing, type Edit, type Score } from '#music';

/** One thing that was done, as one undo takes it back. Plain JSON. */
export interface Step {
  /** What it was: `G4, quarter, in bar 3, beat 2`. */
  readonly words: string;
  /** How the song came to be, from the one before: by edits, or as a whole. */
  readonly by: { readonly edits: readonly Edit[] } | { readonly score: Score };
  /** Steps of one kind that follow each other are one: typing in one field. */
  readonly merge?: string;
}

/** A step with the song before it. */
interface Done extends Step {
  readonly before: Score;
}
/** A step that was taken back, with the song after it. */
interface Undone extends Step {
  readonly after: Score;
}

export interface History {
  readonly done: readonly Done[];
  /** The one to do again is the last. */
  readonly undone: readonly Undone[];
}

/** What a draft keeps of it: where it began, and the steps. */
export interface KeptHistory {
  readonly base: Score;
  readonly done: readonly Step[];
  readonly undone: readonly Step[];
}

/** Nobody takes back more (ours); a draft stays small. */
export const MOST_STEPS = 200;

export const NOTHING_DONE: History = { done: [], undone: [] };

/** The history after a step. A step that goes on with the one before becomes one with it. */
export function extended(history: History, before: Score, step: Step): History {
  const last = history.done.at(-1);
  if (last && step.merge !== undefined && last.merge === step.merge) {
    const edits =
      'edits' in last.by && 'edits' in step.by
        ? { edits: joined(last.by.edits, step.by.edits) }
        : step.by;
    const one: Done = { ...step, by: edits, before: last.before };
    return { done: [...history.done.slice(0, -1), one], undone: [] };
  }
  return { done: [...history.done, { ...step, before }].slice(-MOST_STEPS), undone: [] };
}

/** The words of a whole field are laid anew each time: the last laying is enough. */
function joined(before: readonly Edit[], after: readonly Edit[]): readonly Edit[] {
  const isWhole = (edit: Edit): boolean => edit.do === 'words' || edit.do === 'facts';
  return before.every(isWhole) && after.every(isWhole) ? after : [...before, ...after];
}

/** One step back; null: nothing was done. */
export function undone(
  history: History,
  now: Score,
): { history: History; score: Score; words: string } | null {
  const last = history.done.at(-1);
  if (!last) return null;
  const { before, ...step } = last;
  return {
    history: {
      done: history.done.slice(0, -1),
      undone: [...history.undone, { ...step, after: now }],
    },
    score: before,
    words: last.words,
  };
}

/** One step forth again; null: nothing was taken back. */
export function redone(
  history: History,
  now: Score,
): { history: History; score: Score; words: string } | null {
  const next = history.undone.at(-1);
  if (!next) return null;
  const { after, ...step } = next;
  // What is done again stands alone: what is typed after it is another step.
  const { merge: _, ...alone } = step;
  return {
    history: {
      done: [...history.done, { ...alone, before: now }],
      undone: history.undone.slice(0, -1),
    },
    score: after,
    words: next.words,
  };
}

export function kept({ done, undone }: History, now: Score): KeptHistory {
  return {
    base: done[0]?.before ?? now,
    done: done.map(({ before: _, ...step }) => step),
    undone: undone.map(({ after: _, ...step }) => step),
  };
}

/** The song after a step was done on it; null: it cannot be. */
export function after(score: Score, { by }: Step): Score | null {
  if ('score' in by) return by.score;
  let now = score;
  for (const edit of by.edits) {
    const done = Editing.apply(now, edit);
    if (!done.ok) return null;
    now = done.value;
  }
  return now;
}

/**
 * A history from what was kept, every step done anew. Where it does not lead to the song that was kept (another version
 * of the program did it otherwise), there is none: the song counts.
 */
export function revived({ base, done, undone }: KeptHistory, now: Score): History {
  let score = base;
  const past: Done[] = [];
  for (const step of done) {
    const next = after(score, step);
    if (!next) return NOTHING_DONE;
    past.push({ ...step, before: score });
    score = next;
  }
  if (JSON.stringify(score) !== JSON.stringify(now)) return NOTHING_DONE;
  const future: Undone[] = [];
  for (const step of undone.toReversed()) {
    const next = after(score, step);
    if (!next) break;
    future.unshift({ ...step, after: next });
    score = next;
  }
  return { done: past, undone: future };
}

/**
 * The steps from a state on to now. Null: there is no way from it, as where it was taken back or typed over.
 * @param isIt whether a song is that state
 */
export function stepsSince(
  { done }: History,
  now: Score,
  isIt: (score: Score) => boolean,
): readonly Step[] | null {
  if (isIt(now)) return [];
  const from = done.findLastIndex(({ before }) => isIt(before));
  return from < 0 ? null : done.slice(from).map(({ before: _, ...step }) => step);
}
