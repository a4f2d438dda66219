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

/** Syllables of the shortest lines that hymns are written in (common practice: 8.4.8.4, 4.4.7). Fewer are no line. */
const LINE = 4;
const STOP = /[.,;:!?\u2014]["'\u2019\u201d)]*$/u;

interface OnceForAll {
  readonly at: Ticks;
  /** Its first syllable. */
  readonly word: string;
  /** The verse, 1-based, that has no whole line before it, so that its words may only be missing; null: all have. */
  readonly missing: number | null;
}

/**
 * Where the refrain begins, going by the words: from some note to the end only the first of several verses has words
 * (so they are printed once because everybody sings them every time). Each verse has a whole line of words before it: four
 * syllables at least, and the line ends there by a stop, or the next begins with a capital. Null: no refrain.
 */
function printedOnce(notes: readonly Sung[], verses: number): OnceForAll | null {
  if (verses < 2) return null;
  const lastOfOthers = notes.findLastIndex((note) =>
    note.syllables?.some((syllable, verse) => verse > 0 && syllable !== null),
  );
  if (lastOfOthers < 0) return null;
  const before = notes.slice(0, lastOfOthers + 1);
  const sung = notes.slice(lastOfOthers + 1).filter((note) => note.syllables?.[0]);
  const [first] = sung;
  // Fewer are a word more in the first verse, not a refrain.
  if (!first || sung.length < LINE) return null;
  const word = first.syllables?.[0]?.text ?? '';
  const lines = Array.from({ length: verses }, (_, verse) =>
    before.flatMap(({ syllables }) => syllables?.[verse] ?? []),
  );
  const ends = /^\P{L}*\p{Lu}/u.test(word) || lines.some((line) => STOP.test(line.at(-1)?.text ?? '')); // prettier-ignore
  const isWhole = ends && lines.every((line) => line.length >= LINE);
  // The first verse has the words that the others may lack.
  const counts = lines.slice(1).map(({ length }) => length);
  const missing = isWhole ? null : counts.indexOf(Math.min(...counts)) + 2;
  return { at: first.at, word, missing };
}

export interface FoundSections {
  readonly sections: Section[];
  /** Where the words alone show a refrain, or where other verses only want words; their first syllable. */
  readonly refrain: OnceForAll | null;
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
  const refrain = printedOnce(notes, verses);
  if (!refrain || refrain.at === 0 || refrain.missing !== null) {
    return { sections: sectionsOf([{ at: 0, name: 'Verse' }], end), refrain };
  }
  const starts = [
    { at: 0, name: 'Verse' },
    { at: refrain.at, name: 'Refrain' },
  ];
  return { sections: sectionsOf(starts, end), refrain };
}

/** How a guess by the words is told: the refrain that was made of them, or why none was. */
export function sayRefrain({ word, missing }: OnceForAll): string {
  if (missing !== null) {
    return `From “${word}” to the end only the first verse has words. Verse ${missing} has no whole line before that, so they are not taken for a refrain: the other verses lack their words there.`;
  }
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
