import {
  LibraryEntries,
  NO_DETAILS,
  type LibraryEntry,
  type Score,
  type SongDetails,
} from '#music';
import { integer, pick, type Chance } from './chance.ts';
import { hymn } from './hymn.ts';
import { HYMN_FILES } from './hymns.ts';

/** A song of a book that is made for a test. */
export interface MadeSong {
  readonly id: string;
  readonly score: Score;
  readonly details: SongDetails;
}

const hymns = (): Score[] => HYMN_FILES.map(hymn);

const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

/** Every word of the hymns as often as it stands there, so that words are as common as they are. */
function wordsOfHymns(scores: readonly Score[]): string[] {
  return scores.flatMap((score) =>
    score.voices
      .filter(({ id }) => id === score.melody)
      .flatMap(({ notes }) => notes.flatMap(({ syllables }) => syllables ?? []))
      .flatMap((syllable) => (syllable && !syllable.hyphen ? [syllable.text] : []))
      .map((text) => text.replaceAll(/[^\p{L}’']/gu, '').toLowerCase())
      .filter((text) => text !== ''),
  );
}

/** The words of a hymn, another in the place of each, so that its syllables and lines stay. */
function reworded(score: Score, words: readonly string[], chance: Chance): Score {
  const other = (text: string): string => {
    const word = pick(chance, words);
    return (/^\p{Lu}/u.test(text) ? capital(word) : word) + (/[,;:.!?]+$/.exec(text)?.[0] ?? '');
  };
  const voices = score.voices.map((voice) =>
    voice.id !== score.melody
      ? voice
      : {
          ...voice,
          notes: voice.notes.map((note) =>
            note.syllables
              ? {
                  ...note,
                  syllables: note.syllables.map((each) =>
                    each ? { ...each, text: other(each.text) } : each,
                  ),
                }
              : note,
          ),
        },
  );
  const verses = score.verses.map(({ lines, ...verse }) =>
    lines
      ? { ...verse, lines: lines.map((line) => line.replaceAll(/[\p{L}’']+/gu, other)) }
      : verse,
  );
  return { ...score, voices, verses };
}

/** Songs without end, each the tune of a hymn with other words. */
export function* madeScores(chance: Chance): Generator<Score, never> {
  const scores = hymns();
  const words = wordsOfHymns(scores);
  for (;;) {
    const base = reworded(pick(chance, scores), words, chance);
    const length = integer(chance, 2, 6);
    const title = capital(Array.from({ length }, () => pick(chance, words)).join(' '));
    yield { ...base, facts: { ...base.facts, title, tune: capital(pick(chance, words)) } };
  }
}

/** The hymns themselves, and so many more songs made of their words and tunes. */
export function madeBook(more: number, chance: Chance): MadeSong[] {
  const made = madeScores(chance);
  const scores = Array.from({ length: more }, () => made.next().value as Score);
  return [...hymns(), ...scores].map((score, i) => ({
    id: `song-${String(i).padStart(5, '0')}`,
    score,
    details: NO_DETAILS,
  }));
}

/** Of the words of another song, so many are new to the book, as a language never ends (Heaps' law; our own estimate). */
const NEW_WORDS = 2;

/** A word that stands nowhere else: the beginning of one with the end of another. */
const strange = (words: readonly string[], chance: Chance): string =>
  pick(chance, words).slice(0, integer(chance, 2, 5)) + pick(chance, words).slice(-4);

/** So many entries of a book, made of the words and tunes of the hymns; quicker than songs, for books of thousands. */
export function* madeEntries(count: number, chance: Chance): Generator<LibraryEntry> {
  const scores = hymns();
  const words = wordsOfHymns(scores);
  const entries = scores.map((score) => LibraryEntries.of(score, NO_DETAILS));
  const other = (text: string): string =>
    text.replaceAll(/[\p{L}’']+/gu, (old) =>
      /^\p{Lu}/u.test(old) ? capital(pick(chance, words)) : pick(chance, words),
    );
  for (let i = 0; i < count; i += 1) {
    const base = entries[i % entries.length] as LibraryEntry;
    if (i < entries.length) {
      yield base;
      continue;
    }
    const last = Array.from({ length: NEW_WORDS }, () => strange(words, chance)).join(' ');
    const lines = [...base.lines.map(other), last];
    yield {
      ...base,
      title: other(base.title),
      tune: capital(pick(chance, words)),
      firstLine: lines[0] ?? null,
      lines,
    };
  }
}
