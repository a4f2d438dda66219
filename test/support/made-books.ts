import { NO_DETAILS, type Score, type SongDetails } from '#music';
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

/** The hymns themselves, and so many more songs made of their words and tunes. */
export function madeBook(more: number, chance: Chance): MadeSong[] {
  const scores = hymns();
  const words = wordsOfHymns(scores);
  const made = Array.from({ length: more }, (): Score => {
    const base = reworded(pick(chance, scores), words, chance);
    const length = integer(chance, 2, 6);
    const title = capital(Array.from({ length }, () => pick(chance, words)).join(' '));
    return { ...base, facts: { ...base.facts, title, tune: capital(pick(chance, words)) } };
  });
  return [...scores, ...made].map((score, i) => ({
    id: `song-${String(i).padStart(5, '0')}`,
    score,
    details: NO_DETAILS,
  }));
}
