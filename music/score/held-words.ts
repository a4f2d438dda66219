import type { Note, Section, Ticks } from './score.ts';

/** Whether a note sounds on in the one after it. */
function isTiedInto(note: Note | undefined, next: Note): boolean {
  return note?.tie === true && note.pitches.some((each) => next.pitches.includes(each));
}

/** What is sung at the moment, while one walks along the notes of a verse. */
interface Sung {
  /** No syllable of this verse comes after it in its section. */
  readonly isLast: boolean;
  /** Notes that it is still held over because the words say so. */
  left: number;
  /** Slurs that began with it or on a note that it is held over. */
  slurs: number;
}

/**
 * The notes of a voice that are sung on the vowel of a syllable before them. Between two syllables of a section those are
 * all that follow without a rest. After the last one a note need not have its words yet: there only those that a tie or
 * a slur joins to it, and as many as its words hold it over (`held`).
 * @param verse index into `Note.syllables`
 * @param sections of the score; without them the voice is one
 */
export function heldNotes(
  notes: readonly Note[],
  verse: number,
  sections: readonly Pick<Section, 'from' | 'to'>[] = [],
): ReadonlySet<Note> {
  const held = new Set<Note>();
  const lasts = lastSyllables(notes, verse, sections);
  let sung: Sung | null = null;
  notes.forEach((note, i) => {
    const before = notes[i - 1];
    if (note.pitches.length === 0) return void (sung = null);
    const syllable = note.syllables?.[verse];
    const { slurStarts = 0, slurEnds = 0 } = note;
    if (syllable) {
      sung = { isLast: lasts.has(note), left: syllable.held ?? 0, slurs: slurStarts };
      return;
    }
    if (!sung) return;
    const isTied = isTiedInto(before, note);
    if (sung.isLast && !isTied && sung.slurs === 0 && sung.left === 0) return void (sung = null);
    held.add(note);
    if (!isTied) sung.left = Math.max(0, sung.left - 1);
    sung.slurs = Math.max(0, sung.slurs - slurEnds) + slurStarts;
  });
  return held;
}

/** The notes with the last syllable of a verse in each section. */
function lastSyllables(
  notes: readonly Note[],
  verse: number,
  sections: readonly Pick<Section, 'from' | 'to'>[],
): ReadonlySet<Note> {
  const sectionOf = (at: Ticks): number => sections.findLastIndex(({ from }) => from <= at);
  const lasts = new Map<number, Note>();
  for (const note of notes) if (note.syllables?.[verse]) lasts.set(sectionOf(note.at), note);
  return new Set(lasts.values());
}

/**
 * The notes that the last syllables of a voice are held over by their words alone, with the verses as indexes into
 * `Note.syllables`. Rests between them are passed over, as words pass over them.
 */
export function heldByWords(notes: readonly Note[]): ReadonlyMap<Note, readonly number[]> {
  const found = new Map<Note, number[]>();
  const verses = notes.reduce((most, { syllables }) => Math.max(most, syllables?.length ?? 0), 0);
  for (let verse = 0; verse < verses; verse += 1) {
    let left = 0;
    notes.forEach((note, i) => {
      const syllable = note.syllables?.[verse];
      if (syllable) return void (left = syllable.held ?? 0);
      if (left === 0 || note.pitches.length === 0 || isTiedInto(notes[i - 1], note)) return;
      found.set(note, [...(found.get(note) ?? []), verse]);
      left -= 1;
    });
  }
  return found;
}

/** A voice whose syllables say what they are held over only where no further one of their section says it. */
export function heldAtEnds(
  notes: readonly Note[],
  sections: readonly Pick<Section, 'from' | 'to'>[],
): readonly Note[] {
  if (!notes.some(({ syllables }) => syllables?.some((each) => each?.held))) return notes;
  const verses = notes.reduce((most, { syllables }) => Math.max(most, syllables?.length ?? 0), 0);
  const lasts = Array.from({ length: verses }, (_, verse) => lastSyllables(notes, verse, sections));
  return notes.map((note): Note => {
    const { syllables } = note;
    if (!syllables) return note;
    const kept = syllables.map((syllable, verse) => {
      if (!syllable?.held || lasts[verse]?.has(note)) return syllable;
      const { held: _, ...rest } = syllable;
      return rest;
    });
    return { ...note, syllables: kept };
  });
}
