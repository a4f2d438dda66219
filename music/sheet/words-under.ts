import { INTRODUCTION } from '../parts/form/introduction.ts';
import type { Bar, Note, Score, Section, Syllable } from '../score/score.ts';
import { onlyWhereSung, versesSung, versesSungIn } from '../score/sung-verses.ts';
import { barLength, isPickup, melodyOf, meterAt } from '../score/time.ts';
import { isUnderNotes, linesOfVerse } from '../score/verse-text.ts';
import type { PageRequest, VerseUnder } from './page.ts';

/** Words that stand as text after the music, as in a hymnal. */
export interface TextVerse {
  readonly number: number;
  readonly lines: readonly string[];
}

/** The sections that no pass of the form names. A song whose form is empty is played once through: it has none. */
export function leftOutOf({ form, sections }: Score): Section[] {
  const played = new Set(form.map(({ section }) => section).filter((id) => id !== INTRODUCTION));
  if (played.size === 0) return [];
  return sections.filter(({ id }) => id !== INTRODUCTION && !played.has(id));
}

/** The score without the words of what the form leaves out: nobody sings them. */
function withoutLeftOut(score: Score): Score {
  const leftOut = leftOutOf(score);
  if (leftOut.length === 0) return score;
  const melody = melodyOf(score);
  const notes = melody.notes.map((note): Note => {
    if (!leftOut.some(({ from, to }) => note.at >= from && note.at < to)) return note;
    const { syllables: _, ...without } = note;
    return without;
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}

/**
 * The score with the words to print under its notes: in each section that is sung those of the verse that is asked for, or where it is
 * not sung there or has no words of its own (a refrain, written once), of the first that is. With all verses on the page
 * stand those that are sung there.
 */
export function withWordsOf(whole: Score, verse: VerseUnder): Score {
  const score = withoutLeftOut(whole);
  const melody = melodyOf(score);
  const index = score.verses.findIndex(({ number }) => number === verse);
  const printed = score.sections.map((section) => {
    const sung = versesSungIn(score, section);
    return { ...section, sung, source: sung.includes(index) ? index : (sung[0] ?? -1) };
  });
  const notes = melody.notes.map((note): Note => {
    const here = printed.find(({ from, to }) => note.at >= from && note.at < to);
    if (!note.syllables || !here) return note;
    const own = note.syllables;
    const syllables = score.verses.map((_, i): Syllable | null => {
      if (verse === 'all') return here.sung.includes(i) ? (own[i] ?? null) : null;
      return (i === index ? own[here.source] : own[i]) ?? null;
    });
    return { ...note, syllables };
  });
  const voices = score.voices.map((each) => (each.id === melody.id ? { ...each, notes } : each));
  return { ...score, voices };
}

/** Number of the verse whose words stand under a section when one is asked for; null: none of its verses does. */
export function verseUnder(whole: Score, section: Section, verse: number): number | null {
  const score = withoutLeftOut(whole);
  const numbers = versesSungIn(score, section).map((index) => score.verses[index]?.number ?? null);
  return numbers.includes(verse) ? verse : (numbers[0] ?? null);
}

/**
 * The score with the words of its tune under another voice: under each note what is sung while it sounds, and before
 * it where that voice rests, so that its player knows the place.
 * @param options.pickups what is sung before bar 1 stands under the rest there, so that nobody comes in with it. Not in
 *   files: most programs leave out the words of rests
 */
export function wordsUnderVoice(
  score: Score,
  id: string,
  { pickups = false }: { readonly pickups?: boolean } = {},
): Score {
  const sung = melodyOf(score).notes.filter(({ syllables }) => syllables?.some((each) => each));
  if (sung.length === 0 || id === score.melody) return score;
  const short = pickups ? score.bars.filter((bar) => isShortPickup(score, bar)) : [];
  const voices = score.voices.map((voice) => {
    if (voice.id !== id) return voice;
    const last = voice.notes.findLast(({ pitches }) => pitches.length > 0);
    let next = 0;
    const notes = voice.notes.map((note): Note => {
      const end = note === last ? Infinity : note.at + note.length;
      const inPickup = short.some(({ at, length }) => note.at >= at && end <= at + length);
      if (note.pitches.length === 0 && !inPickup) return note;
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

function isShortPickup(score: Score, bar: Bar): boolean {
  return isPickup(bar) && bar.length < (barLength(meterAt(score, bar.at)) ?? 0);
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

/** Numbers of the verses that are sung and can stand under the notes, in the order in which they are sung. */
export function versesUnder(whole: Score): number[] {
  const score = withoutLeftOut(whole);
  return versesSung(score).filter((number) => isUnderNotes(score, indexOf(score, number)));
}

/** The verse to print: the one that is asked for, or where that is not sung with notes the first that is. */
export function versePrinted(score: Score, verse: PageRequest['verse']): VerseUnder {
  const all = versesUnder(score);
  if (verse === 'all' || (verse !== null && all.includes(verse))) return verse;
  return all[0] ?? versesSung(score)[0] ?? 1;
}

/** The verses that are sung and do not stand under the notes on this page, in the order in which they are sung. */
export function textVerses(whole: Score, verse: VerseUnder): TextVerse[] {
  const score = withoutLeftOut(whole);
  return versesSung(score).flatMap((number) => {
    const index = indexOf(score, number);
    const isUnder = isUnderNotes(score, index) && (verse === 'all' || verse === number);
    const lines = isUnder ? [] : linesOfVerse(onlyWhereSung(score, number), index);
    return lines.length > 0 ? [{ number, lines }] : [];
  });
}

const indexOf = ({ verses }: Score, number: number): number =>
  verses.findIndex((verse) => verse.number === number);
