import type { ArrangedPass, Score } from '#music';

/** The verses that a pass may name: those with words, and those that the song itself is played with. */
export function versesOf({ verses, form }: Pick<Score, 'verses' | 'form'>): Set<number | null> {
  return new Set([...verses.map(({ number }) => number), ...form.map(({ verse }) => verse)]);
}

/**
 * Passes through what the song has; sections and verses that it had before it was edited are left out, and come back with
 * them. Null where nothing is left: as the song has it.
 */
export function knownForm(
  form: readonly ArrangedPass[] | null,
  score: Pick<Score, 'sections' | 'verses' | 'form'>,
): readonly ArrangedPass[] | null {
  const verses = versesOf(score);
  const known = form?.filter(
    ({ section, verse }) =>
      score.sections.some(({ id }) => id === section) && (verse === null || verses.has(verse)),
  );
  return known && known.length > 0 ? known : null;
}
