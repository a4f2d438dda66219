import { success, type Problem, type Result } from '../result.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import { counted } from '../score/number-words.ts';
import type { Note, Score, Section, Syllable, Ticks } from '../score/score.ts';
import { verseForAll, wordedIn } from '../score/sung-verses.ts';
import { melodyOf } from '../score/time.ts';
import { lineStarts } from '../score/verse-text.ts';
import type { WordsEdit } from './edit.ts';
import { isHeldInto } from './lay-notes.ts';
import { isWhole, missingPlace, refused, refusedAt, withoutTime, withVoice } from './refusal.ts';
import { stepsOf, textOf, type Step } from './syllables.ts';
import { tidied, tidiedLines } from './typed-text.ts';
import { formWith, mapSyllables, sungByVerse, syllablesWith, verseIn } from './verses.ts';

type Of<K extends WordsEdit['do']> = Extract<WordsEdit, { readonly do: K }>;

const isVerse = (number: number): boolean => isWhole(number, 1, SCORE_LIMITS.verses);
const NO_VERSE = `Verses are numbered from 1 to ${SCORE_LIMITS.verses}.`;

function syllable(score: Score, edit: Of<'syllable'>): Result<Score> {
  const missing = missingPlace(score, edit.at);
  if (missing) return missing;
  if (!isVerse(edit.verse)) return refused(NO_VERSE);
  const notes = melodyOf(score).notes;
  const index = notes.findIndex(({ at }) => at === edit.at);
  const note = notes[index];
  if (!note) return refusedAt(score, edit.at, 'no note of the tune begins there.');
  const text = tidied(edit.syllable?.text ?? '');
  if (text.length > SCORE_LIMITS.name) return refusedAt(score, edit.at, 'that is too long for a syllable.'); // prettier-ignore
  const set: Syllable | null =
    text === '' ? null : { text, ...(edit.syllable?.hyphen && { hyphen: true }) };
  if (set && !score.untimed) {
    if (note.pitches.length === 0) return refusedAt(score, edit.at, 'words need a note, and here is a rest.'); // prettier-ignore
  }
  const isNew = !score.verses.some(({ number }) => number === edit.verse);
  if (isNew && !set) return refused(`The song has no verse ${edit.verse}.`);
  const begun = verseIn(score, edit.verse);
  const voice = melodyOf(begun.score);
  const changed = syllablesWith(voice.notes[index] as Note, begun.index, set);
  return success(withVoice(begun.score, { ...voice, notes: voice.notes.with(index, changed) }));
}

/**
 * Indices of the notes of the tune that can bear a syllable in a section: not rests, and what a tie holds on only where
 * some verse has a syllable there (a hymnal ties for one verse what another sings on two syllables).
 */
export function notesForWords(score: Score, { from, to }: Section): number[] {
  const { notes } = melodyOf(score);
  return notes.flatMap((note, i) => {
    if (note.pitches.length === 0 || note.at < from || note.at >= to) return [];
    const isSung = !isHeldInto(notes[i - 1], note) || note.syllables?.some((each) => each !== null);
    return isSung ? [i] : [];
  });
}

/** Where the words of a verse begin in a section; null: it has none there. */
export function wordsBegin(score: Score, sectionId: string, verse: number): Ticks | null {
  const section = score.sections.find(({ id }) => id === sectionId);
  const index = score.verses.findIndex(({ number }) => number === verse);
  const { notes } = melodyOf(score);
  const first = section && notesForWords(score, section).find((i) => notes[i]?.syllables?.[index]);
  return notes[first ?? -1]?.at ?? null;
}

/**
 * The words of a verse as they stand under the notes of a section from where they begin, as `words` takes them; a line
 * for each of the poem.
 */
export function wordsOf(score: Score, sectionId: string, verse: number): string {
  const section = score.sections.find(({ id }) => id === sectionId);
  const index = score.verses.findIndex(({ number }) => number === verse);
  if (!section || index < 0) return '';
  const { notes } = melodyOf(score);
  const starts = lineStarts(score);
  const all = notesForWords(score, section);
  const isSung = (place: number): boolean => Boolean(notes[place]?.syllables?.[index]);
  const last = all.findLastIndex(isSung);
  const end = last + 1 + (notes[all[last] ?? -1]?.syllables?.[index]?.held ?? 0);
  const places = all.slice(Math.max(0, all.findIndex(isSung)), last < 0 ? 0 : end);
  const lines: Step[][] = [];
  for (const place of places) {
    const note = notes[place] as Note;
    const before = lines.at(-1)?.at(-1);
    const goesOn = before !== undefined && before !== 'hold' && before.hyphen === true;
    if (lines.length === 0 || (starts.has(note.at) && !goesOn)) lines.push([]);
    lines.at(-1)?.push(note.syllables?.[index] ?? 'hold');
  }
  return lines.map(textOf).join('\n');
}

const more = (count: number, what: 'syllable' | 'note'): string => counted(count, what, `${what}s`);

/**
 * Where text and tune part ways: the first line that does not fit, where the other verses show the lines of the tune and
 * the text has as many.
 */
function misfit(score: Score, edit: Of<'words'>, places: readonly number[], steps: number): string {
  const { notes } = melodyOf(score);
  const starts = lineStarts(score);
  const tune: number[] = [];
  for (const place of places) {
    if (tune.length === 0 || starts.has(notes[place]?.at ?? -1)) tune.push(0);
    tune[tune.length - 1] = (tune.at(-1) ?? 0) + 1;
  }
  const text = edit.text.split('\n').map((line) => stepsOf(line).length).filter((count) => count > 0); // prettier-ignore
  const line = tune.length > 1 && text.length === tune.length ? text.findIndex((count, i) => count !== tune[i]) : -1; // prettier-ignore
  const section = score.sections.find(({ id }) => id === edit.section);
  const isForAll = section && verseForAll(score, section) === edit.verse;
  const whose = isForAll ? section.name : `Verse ${edit.verse}`;
  const where = line < 0 ? whose : `${whose}, line ${line + 1}`;
  const over = line < 0 ? steps - places.length : (text[line] ?? 0) - (tune[line] ?? 0);
  return over > 0
    ? `${where}: ${more(over, 'syllable')} more than notes.`
    : `${where}: ${more(-over, 'note')} more than syllables.`;
}

function words(score: Score, edit: Of<'words'>): Result<Score> {
  const untimed = withoutTime(score);
  if (untimed) return untimed;
  const section = score.sections.find(({ id }) => id === edit.section);
  if (!section) return refused('The song has no such section.');
  if (!isVerse(edit.verse)) return refused(NO_VERSE);
  if (edit.text.length > SCORE_LIMITS.text) return refused('That is too long for a verse.');
  const steps = stepsOf(tidiedLines(edit.text));
  const long = steps.find((step) => step !== 'hold' && step.text.length > SCORE_LIMITS.name);
  if (long) return refused('One word is too long to stand under a note.');
  const all = notesForWords(score, section);
  if (steps.length > 0 && all.length === 0) {
    return refused(`${section.name} has no notes yet that words could stand under.`);
  }
  const from = edit.from ?? section.from;
  const nowhere = missingPlace(score, from);
  if (nowhere) return nowhere;
  const places = all.filter((i) => (melodyOf(score).notes[i]?.at ?? 0) >= from);
  if (steps.length > 0 && places.length === 0) {
    return refusedAt(score, from, `no note of ${section.name} follows that words could stand under.`); // prettier-ignore
  }
  if (steps.length > places.length) return refused(misfit(score, edit, places, steps.length));
  const warnings: Problem[] = [];
  if (steps.length > 0 && steps.length < places.length) {
    warnings.push({ code: 'notes-without-words', message: misfit(score, edit, places, steps.length) }); // prettier-ignore
  }
  const isNew = !score.verses.some(({ number }) => number === edit.verse);
  if (isNew && steps.length === 0) return success(score);
  const begun = verseIn(score, edit.verse);
  const under = lay(begun.score, section, begun.index, steps, places);
  const isParted = verseForAll(score, section) !== null && wordedIn(under, section).length > 1;
  const laid = isParted ? { ...under, form: sungByVerse(under.form, section) } : under;
  if (isNew && !laid.form.some(({ verse }) => verse === edit.verse)) {
    const message = `Verse ${edit.verse} is not in the order of the song yet, so nobody sings it.`;
    warnings.push({ code: 'verse-not-sung', message });
  }
  return success(withoutPrinted(laid, begun.index, section, warnings), warnings);
}

function lay(
  score: Score,
  { from, to }: Section,
  index: number,
  steps: readonly Step[],
  places: readonly number[],
): Score {
  const voice = melodyOf(score);
  const set = new Map<number, Syllable>();
  const last = steps.findLastIndex((step) => step !== 'hold');
  steps.forEach((step, i) => {
    const place = places[i];
    if (step === 'hold' || place === undefined) return;
    // Between two syllables a note without one says it itself.
    const held = i === last ? steps.length - 1 - i : 0;
    set.set(place, held > 0 ? { ...step, held } : step);
  });
  const notes = voice.notes.map((note, i) => {
    const isInside = note.at >= from && note.at < to;
    return isInside ? syllablesWith(note, index, set.get(i) ?? null) : note;
  });
  return withVoice(score, { ...voice, notes });
}

const lettersOf = (text: string): string => text.replace(/[^\p{L}\p{N}]+/gu, '').toLowerCase();

/** Lines that were printed below the music go once all their words stand under notes; else they stay, and it is said. */
function withoutPrinted(score: Score, index: number, section: Section, warnings: Problem[]): Score {
  const verse = score.verses[index];
  if (!verse?.lines) return score;
  const under = melodyOf(score).notes.map(({ syllables }) => syllables?.[index]?.text ?? '').join(''); // prettier-ignore
  const { lines, ...bare } = verse;
  if (lettersOf(under).includes(lettersOf(lines.join('')))) {
    return { ...score, verses: score.verses.with(index, bare) };
  }
  const message = `The words of verse ${verse.number} that were known before are not all under the notes of ${section.name}; they stay below the music.`;
  warnings.push({ code: 'words-below-stay', message });
  return score;
}

function removeVerse(score: Score, { verse }: Of<'remove verse'>): Result<Score> {
  const index = score.verses.findIndex(({ number }) => number === verse);
  if (index < 0) return refused(`The song has no verse ${verse}.`);
  const verses = score.verses.toSpliced(index, 1);
  const usual = formWith(score, verses);
  const isTwice = verses.some(({ number }) => number === verse);
  const left = usual === score.form && !isTwice ? usual.filter((pass) => pass.verse !== verse) : usual; // prettier-ignore
  const voices = mapSyllables(score, (all) => all.toSpliced(index, 1));
  return success({ ...score, verses, voices, form: left });
}

export const WORDS = { syllable, words, 'remove verse': removeVerse };
