import { isUnderNotes, linesOfVerse } from '../score/verse-text.ts';
import type { Note, Score } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';
import type { PageRequest } from './page.ts';

/** Words that stand as text after the music, as in a hymnal. */
export interface TextVerse {
  readonly number: number;
  readonly lines: readonly string[];
}

/**
 * The score with the words to print under its notes: where the verse that is asked for has none in a whole section that
 * has some (a refrain, written once), those of the first verse that has are its own.
 */
export function withWordsOf(score: Score, verse: PageRequest['verse']): Score {
  if (verse === 'all') return score;
  const index = score.verses.findIndex(({ number }) => number === verse);
  if (index < 1) return score;
  const melody = melodyOf(score);
  const source = score.sections.map((section) => {
    const inside = melody.notes.filter(({ at }) => at >= section.from && at < section.to);
    const sung = score.verses.findIndex((_, i) => inside.some((note) => note.syllables?.[i]));
    return inside.some((note) => note.syllables?.[index]) ? index : sung;
  });
  const notes = melody.notes.map((note): Note => {
    const place = score.sections.findIndex(({ from, to }) => note.at >= from && note.at < to);
    const from = source[place] ?? -1;
    const borrowed = from < 0 || from === index ? undefined : note.syllables?.[from];
    if (!borrowed) return note;
    const syllables = score.verses.map((_, i) =>
      i === index ? borrowed : (note.syllables?.[i] ?? null),
    );
    return { ...note, syllables };
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}

/** Numbers of the verses that can stand under the notes. */
export function versesUnder(score: Score): number[] {
  return score.verses.filter((_, i) => isUnderNotes(score, i)).map(({ number }) => number);
}

/** The verse to print: the one that is asked for, or where the song has not got it under its notes the first that is. */
export function versePrinted(score: Score, verse: PageRequest['verse']): PageRequest['verse'] {
  const all = versesUnder(score);
  return verse === 'all' || all.includes(verse) ? verse : (all[0] ?? verse);
}

/** The verses that do not stand under the notes on this page. */
export function textVerses(score: Score, verse: PageRequest['verse']): TextVerse[] {
  return score.verses.flatMap(({ number }, index) => {
    const isUnder = isUnderNotes(score, index) && (verse === 'all' || verse === number);
    const lines = isUnder ? [] : linesOfVerse(score, index);
    return lines.length > 0 ? [{ number, lines }] : [];
  });
}
