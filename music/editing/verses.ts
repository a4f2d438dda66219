import type { Note, Pass, Score, Section, Syllable, Verse } from '../score/score.ts';

/** Every verse through every section; a section whose words are always the same belongs to no verse (common practice). */
export function usualForm(sections: readonly Section[], verses: readonly Verse[]): Pass[] {
  const hasVerse = sections.some(({ kind }) => kind === 'verse');
  const rounds = verses.length === 0 || !hasVerse ? [null] : verses.map(({ number }) => number);
  return rounds.flatMap((verse) =>
    sections.map(({ id, kind }) => ({
      section: id,
      verse: kind === 'verse' || kind === 'other' ? verse : null,
    })),
  );
}

const isSame = (a: readonly Pass[], b: readonly Pass[]): boolean =>
  a.length === b.length &&
  a.every(({ section, verse }, i) => section === b[i]?.section && verse === b[i].verse);

/** The form after the verses changed: the usual one follows them, one that a person or a source made stays. */
export function formWith(score: Score, verses: readonly Verse[]): readonly Pass[] {
  const { form, sections } = score;
  return isSame(form, usualForm(sections, score.verses)) ? usualForm(sections, verses) : form;
}

/** A section that was sung the same each time has words of its own for each verse now: its passes belong to the verse before. */
export function sungByVerse(form: readonly Pass[], { id }: Section): readonly Pass[] {
  let verse: number | null = null;
  return form.map((pass) => {
    verse = pass.verse ?? verse;
    return pass.section === id ? { ...pass, verse } : pass;
  });
}

/** A note with its syllables as the list says; none at the end of it, and none at all where it has no words. */
export function withSyllables(note: Note, syllables: readonly (Syllable | null)[]): Note {
  const { syllables: _before, ...rest } = note;
  const last = syllables.findLastIndex((each) => each !== null);
  return last < 0 ? rest : { ...rest, syllables: syllables.slice(0, last + 1) };
}

/** The syllables of a note with one of them changed; what lies between is empty. */
export function syllablesWith(note: Note, index: number, syllable: Syllable | null): Note {
  const length = Math.max(note.syllables?.length ?? 0, index + 1);
  const all = Array.from({ length }, (_, i) => note.syllables?.[i] ?? null);
  return withSyllables(note, all.with(index, syllable));
}

/** Every note of every voice with its list of syllables changed; notes without words stay as they are. */
export function mapSyllables(
  score: Score,
  change: (syllables: readonly (Syllable | null)[]) => readonly (Syllable | null)[],
): Score['voices'] {
  return score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map((note) =>
      note.syllables ? withSyllables(note, change(note.syllables)) : note,
    ),
  }));
}

/**
 * A score that has a verse of that number, and where it stands in the list. One that is begun takes its place by its
 * number and is labelled; with it verses that had no label get one, and a usual form sings it too.
 */
export function verseIn(score: Score, number: number): { score: Score; index: number } {
  const index = score.verses.findIndex((each) => each.number === number);
  if (index >= 0) return { score, index };
  const place = score.verses.findLastIndex((each) => each.number < number) + 1;
  const isOnly = score.verses.length === 0;
  const labelled = score.verses.map((each) => ({
    ...each,
    label: each.label === '' ? `${each.number}.` : each.label,
  }));
  const verses = labelled.toSpliced(place, 0, { number, label: isOnly ? '' : `${number}.` });
  const voices = mapSyllables(score, (all) =>
    all.length <= place ? all : all.toSpliced(place, 0, null),
  );
  return { score: { ...score, verses, voices, form: formWith(score, verses) }, index: place };
}
