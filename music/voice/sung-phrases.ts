import { breathsIn } from '../parts/singer/breaths.ts';
import type { Score, Ticks } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';
import { sungSections, type SungNote } from './sung.ts';

/** A note with the section it is sung in. */
export interface PlacedNote extends SungNote {
  /** Id of the section. */
  readonly section: string;
}

/** What is sung in one breath: notes in order, at least one, without a rest between them. */
export interface SungPhrase {
  readonly notes: readonly PlacedNote[];
  /** What ends it: a rest, a breath between two notes, or nothing but the end of the tune. */
  readonly endsBy: 'rest' | 'breath' | 'end';
}

/**
 * One verse's worth of a voice in phrases: a rest ends one, a breath that the source writes, and one that the words ask
 * for (see `breathsIn`).
 * @param voice id of a voice; missing: the tune
 */
export function phrasesOf(score: Score, voice?: string): SungPhrase[] {
  const notes = sungSections(score, voice).flatMap(({ id, notes: own }) =>
    own.map((note): PlacedNote => ({ ...note, section: id })),
  );
  const breaths = breathMoments(score);
  const phrases: SungPhrase[] = [];
  let begun: PlacedNote[] = [];
  notes.forEach((note, i) => {
    begun.push(note);
    const [end, next] = [note.at + note.length, notes[i + 1]];
    const endsBy = !next ? 'end' : next.at > end ? 'rest' : breaths.has(end) ? 'breath' : null;
    if (!endsBy) return;
    phrases.push({ notes: begun, endsBy });
    begun = [];
  });
  return phrases;
}

/** The moments at which a note of the tune ends and a breath follows. */
function breathMoments(score: Score): ReadonlySet<Ticks> {
  const found = breathsIn(score);
  const moments = melodyOf(score)
    .notes.filter(
      (note) => found.has(note.at) || (note.signs?.includes('breath') === true && !note.tie),
    )
    .map(({ at, length }) => at + length);
  return new Set(moments);
}
