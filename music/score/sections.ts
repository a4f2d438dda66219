import type { Note, Pass, Section, SectionKind, Ticks, Verse } from './score.ts';

export interface SectionStart {
  readonly at: Ticks;
  readonly name: string;
}

/** All kinds, as they are offered. */
export const SECTION_KINDS = [
  'verse',
  'refrain',
  'chorus',
  'bridge',
  'tag',
  'intro',
  'ending',
  'vamp',
  'other',
] as const satisfies readonly SectionKind[];

const BY_NAME: readonly (readonly [RegExp, SectionKind])[] = [
  [/^(refrain|burden)\b/i, 'refrain'],
  [/^chorus\b/i, 'chorus'],
  [/^(verse|stanza)\b/i, 'verse'],
  [/^bridge\b/i, 'bridge'],
  [/^(tag|coda)\b/i, 'tag'],
  [/^intro(duction)?\b/i, 'intro'],
  [/^vamp\b/i, 'vamp'],
  [/^(ending|outro|amen)\b/i, 'ending'],
];

/** What a section is, by its name. */
export function kindOf(name: string): SectionKind {
  return BY_NAME.find(([pattern]) => pattern.test(name))?.[1] ?? 'other';
}

/** Sections from their beginnings; ids are their names in small letters, numbered where a name comes again. */
export function sectionsOf(starts: readonly SectionStart[], end: Ticks): Section[] {
  const seen = new Map<string, number>();
  return starts.map(({ at, name }, i) => {
    const base =
      name
        .toLowerCase()
        .replace(/[^\p{L}\d]+/gu, '-')
        .replace(/^-|-$/g, '') || 'section';
    const count = (seen.get(base) ?? 0) + 1;
    seen.set(base, count);
    const id = count === 1 ? base : `${base}-${String(count)}`;
    return { id, kind: kindOf(name), name, from: at, to: starts[i + 1]?.at ?? end };
  });
}

/** A note as far as its words go. */
export type Sung = Pick<Note, 'at' | 'syllables'>;

/**
 * Where the refrain begins, going by the words: from some note to the end only the first of several verses has words
 * (so they are printed once because everybody sings them every time). Null: no refrain.
 */
export function refrainByWords(notes: readonly Sung[], verses: number): Ticks | null {
  if (verses < 2) return null;
  const lastOfOthers = notes.findLastIndex((note) =>
    note.syllables?.some((syllable, verse) => verse > 0 && syllable !== null),
  );
  if (lastOfOthers < 0) return null;
  const sung = notes.slice(lastOfOthers + 1).filter((note) => note.syllables?.[0]);
  const [first] = sung;
  // Fewer are a word more in the first verse, not a refrain.
  return first && sung.length >= 4 ? first.at : null;
}

export interface FoundSections {
  readonly sections: Section[];
  /** Where the refrain was concluded from the words alone, and its first syllable. */
  readonly refrain: { readonly at: Ticks; readonly word: string } | null;
}

/** Sections as the source names them, or as its words show them. */
export function foundSections(
  named: readonly SectionStart[],
  notes: readonly Sung[],
  verses: number,
  end: Ticks,
): FoundSections {
  if (named.length > 0) {
    const starts = named[0]?.at === 0 ? named : [{ at: 0, name: 'Verse' }, ...named];
    return { sections: sectionsOf(starts, end), refrain: null };
  }
  const at = refrainByWords(notes, verses);
  if (at === null || at === 0) {
    return { sections: sectionsOf([{ at: 0, name: 'Verse' }], end), refrain: null };
  }
  const word = notes.find((note) => note.at === at)?.syllables?.[0]?.text ?? '';
  const starts = [
    { at: 0, name: 'Verse' },
    { at, name: 'Refrain' },
  ];
  return { sections: sectionsOf(starts, end), refrain: { at, word } };
}

/** How a guess by the words is told. */
export function sayRefrain(word: string): string {
  return `From “${word}” to the end the words are printed once for all verses: that is taken for the refrain.`;
}

/** Every verse through every section; sections whose words are always the same belong to no verse. */
export function usualForm(sections: readonly Section[], verses: readonly Verse[]): Pass[] {
  const hasVerse = sections.some((section) => section.kind === 'verse');
  const rounds = verses.length === 0 || !hasVerse ? [null] : verses.map((verse) => verse.number);
  return rounds.flatMap((verse) =>
    sections.map((section) => ({
      section: section.id,
      verse: section.kind === 'verse' || section.kind === 'other' ? verse : null,
    })),
  );
}
