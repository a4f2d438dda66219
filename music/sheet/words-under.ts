import { isUnderNotes, linesOfVerse } from '../score/verse-text.ts';
import type { Note, Score, Syllable } from '../score/score.ts';
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
  if (verse === 'all') return withWordsOfCopies(score);
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

/** With all verses on the page, under a section that is written out for some passes stand the verses of those. */
function withWordsOfCopies(score: Score): Score {
  const copies = score.sections.filter(({ copyOf }) => copyOf !== undefined);
  if (copies.length === 0) return score;
  const melody = melodyOf(score);
  const notes = melody.notes.map((note): Note => {
    const copy = copies.find(({ from, to }) => note.at >= from && note.at < to);
    const sung = score.form.filter(({ section }) => section === copy?.id);
    const own = sung.flatMap(({ verse }) => (verse === null ? [] : [verse]));
    if (!note.syllables || own.length === 0) return note;
    const syllables = score.verses.map(({ number }, i) =>
      own.includes(number) ? (note.syllables?.[i] ?? null) : null,
    );
    return { ...note, syllables };
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}

/**
 * The score with the words of its tune under another voice: under each note what is sung while it sounds, and before
 * it where that voice rests, so that its player knows the place.
 */
export function wordsUnderVoice(score: Score, id: string): Score {
  const sung = melodyOf(score).notes.filter(({ syllables }) => syllables?.some((each) => each));
  if (sung.length === 0 || id === score.melody) return score;
  const voices = score.voices.map((voice) => {
    if (voice.id !== id) return voice;
    const last = voice.notes.findLast(({ pitches }) => pitches.length > 0);
    let next = 0;
    const notes = voice.notes.map((note): Note => {
      if (note.pitches.length === 0) return note;
      const end = note === last ? Infinity : note.at + note.length;
      const from = next;
      while (next < sung.length && (sung[next] as Note).at < end) next += 1;
      const here = sung.slice(from, next);
      const syllables = score.verses.map((_, verse) => together(here, verse));
      return syllables.some((each) => each) ? { ...note, syllables } : note;
    });
    return { ...voice, notes };
  });
  return { ...score, voices };
}

/** Syllables of one verse as one stretch of text, without the hyphens inside its words. */
function together(notes: readonly Note[], verse: number): Syllable | null {
  const syllables = notes.flatMap((note) => note.syllables?.[verse] ?? []);
  const last = syllables.at(-1);
  if (!last) return null;
  const text = syllables
    .map(({ text: each, hyphen }, i) => (hyphen || i === syllables.length - 1 ? each : `${each} `))
    .join('');
  return last.hyphen ? { text, hyphen: true } : { text };
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
