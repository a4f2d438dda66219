import type { Note, Score, Section } from './score.ts';
import { melodyOf } from './time.ts';

const notesIn = (score: Score, { from, to }: Section): readonly Note[] =>
  melodyOf(score).notes.filter(({ at }) => at >= from && at < to);

/** Indexes into `score.verses` of those that have syllables in a section, in order. */
export function wordedIn(score: Score, section: Section): number[] {
  const notes = notesIn(score, section);
  return [...score.verses.keys()].filter((i) => notes.some(({ syllables }) => syllables?.[i]));
}

/** The verses that the passes through a section name, in order; null: one of them names none, or there is no pass. */
function namedIn({ form }: Score, { id }: Section): number[] | null {
  const verses = form.flatMap(({ section, verse }) => (section === id ? [verse] : []));
  return verses.length === 0 || verses.includes(null) ? null : (verses as number[]);
}

/**
 * Numbers of the verses that the form sings, in the order in which they first come. A pass through a verse that gives no
 * number sings the first that has words there. A form that names none sings all.
 */
export function versesSung(score: Score): number[] {
  const own = score.verses.map(({ number }) => number);
  if (score.form.every(({ verse }) => verse === null)) return own;
  const sung = score.form.flatMap((pass) => {
    if (pass.verse !== null) return [pass.verse];
    const section = score.sections.find(({ id }) => id === pass.section);
    const [first] = section?.kind === 'verse' ? wordedIn(score, section) : [];
    return first === undefined ? [] : (own[first] ?? []);
  });
  return [...new Set(sung)].filter((number) => own.includes(number));
}

/**
 * Indexes into `score.verses` of those whose syllables are sung in a section, in the order in which they come: of the
 * verses that its passes name, or of all that are sung. Where none of these has any there (a refrain, written once), the
 * first that has; none where their words are only known as text.
 */
export function versesSungIn(score: Score, section: Section): number[] {
  const worded = wordedIn(score, section);
  const sung = (namedIn(score, section) ?? versesSung(score)).map((number) =>
    score.verses.findIndex((verse) => verse.number === number),
  );
  const own = [...new Set(sung)].filter((index) => worded.includes(index));
  if (own.length > 0) return own;
  const isText = sung.length > 0 && sung.every((index) => score.verses[index]?.lines?.length);
  return section.kind === 'verse' && isText ? [] : worded.slice(0, 1);
}

/** The score with the syllables of one verse only where it is sung: not in a section whose passes all name others. */
export function onlyWhereSung(score: Score, verse: number): Score {
  const others = score.sections.filter((each) => namedIn(score, each)?.includes(verse) === false);
  if (others.length === 0) return score;
  const melody = melodyOf(score);
  const notes = melody.notes.map((note): Note => {
    if (!note.syllables || !others.some(({ from, to }) => note.at >= from && note.at < to))
      return note;
    const { syllables: _, ...without } = note;
    return without;
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}

/**
 * Number of the verse that holds the words of a section that are the same each time (a refrain, written once): that which
 * has words there, else the first, as files hold them. Null: every verse has its own there, as in a verse or where more
 * than one has words.
 */
export function verseForAll(score: Score, section: Section): number | null {
  if (section.kind === 'verse' || section.kind === 'other') return null;
  const worded = wordedIn(score, section);
  if (worded.length > 1) return null;
  return score.verses[worded[0] ?? 0]?.number ?? 1;
}

/** The score with the words that are the same each time under one verse too, that is printed alone. */
export function withWordsForAll(score: Score, verse: number): Score {
  const index = score.verses.findIndex(({ number }) => number === verse);
  const spans = score.sections.flatMap((section) => {
    const number = verseForAll(score, section);
    const from = score.verses.findIndex((each) => each.number === number);
    return number === null || from < 0 || from === index ? [] : [{ section, source: from }];
  });
  if (index < 0 || spans.length === 0) return score;
  const melody = melodyOf(score);
  const notes = melody.notes.map((note): Note => {
    const span = spans.find(({ section: { from, to } }) => note.at >= from && note.at < to);
    const syllable = span && note.syllables?.[span.source];
    if (!syllable || !note.syllables) return note;
    const length = Math.max(note.syllables.length, index + 1);
    const syllables = Array.from({ length }, (_, i) => note.syllables?.[i] ?? null);
    return { ...note, syllables: syllables.with(index, syllable) };
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}
