import { SearchWords, type LibraryEntry } from '#music';
import { textsOf } from './searched-texts.ts';

const folded = (text: string): string => SearchWords.wordsOf(text).join(' ');

/** The texts of a song as they are compared with a question: words folded, one space before and behind each. */
export interface FoldedSong {
  readonly title: string;
  readonly first: string;
  /** Every line of every field, a line of its own each. */
  readonly all: string;
}

export function foldedSong(entry: LibraryEntry): FoldedSong {
  const line = (text: string): string => ` ${folded(text)} `;
  return {
    title: line(entry.title),
    first: line(entry.firstLine ?? ''),
    all: Object.values(textsOf(entry)).flat().map(line).join('\n'),
  };
}

/** How near a song can be to a question, the nearest first: the order of what is found. */
const LADDER = [
  'the title is it',
  'the title begins so',
  'the first line is it',
  'the first line begins so',
  'it stands in the title',
  'it stands in the first line',
  'it stands in another line',
  'each word stands somewhere',
  'a word is only nearly there',
] as const;

/** How many rungs there are, 0 the nearest. */
export const RUNGS = LADDER.length;
const rung = (name: (typeof LADDER)[number]): number => LADDER.indexOf(name);

/** On which rung a song stands, by its title and first line, and, if these do not tell, by all its lines. */
export interface Nearness {
  /** null: neither title nor first line has the question. */
  ofHeads(song: FoldedSong): number | null;
  /**
   * Of a song of which title and first line tell nothing; it is farther than any that they tell of, and takes longer.
   * `found`: the words of the song that were found.
   */
  ofLines(song: FoldedSong, found: Readonly<Record<string, unknown>>): number;
}

/** Whether a phrase begins at the beginning of a word; looked for by its first letter, as there are fewer than spaces. */
function holds(text: string, phrase: string): boolean {
  let at = text.indexOf(phrase);
  while (at > 0 && text[at - 1] !== ' ') at = text.indexOf(phrase, at + 1);
  return at > 0;
}

/**
 * On which rung songs stand for a question. Songs that have all its words as they were typed come before those in which
 * one is only nearly there; among them those that have the question in one line, word after word; among these its place
 * decides: title, first line, elsewhere. The last word may be only the beginning of one throughout, but where a title or
 * first line is the whole question.
 */
export function nearnessTo(question: string): Nearness {
  const words = SearchWords.wordsOf(question);
  const last = words.at(-1);
  if (last === undefined) return { ofHeads: () => 0, ofLines: () => 0 };
  const phrase = ` ${words.join(' ')}`;
  const whole = `${phrase} `;
  const before = [...new Set(words.slice(0, -1))];
  const isExact = (found: Readonly<Record<string, unknown>>): boolean =>
    before.every((word) => Object.hasOwn(found, word)) &&
    (Object.hasOwn(found, last) || Object.keys(found).some((word) => word.startsWith(last)));
  return {
    ofHeads: ({ title, first }) => {
      const [inTitle, inFirst] = [title.indexOf(phrase), first.indexOf(phrase)];
      if (inTitle === 0) return rung(title === whole ? 'the title is it' : 'the title begins so');
      if (inFirst === 0) {
        return rung(first === whole ? 'the first line is it' : 'the first line begins so');
      }
      if (inTitle > 0) return rung('it stands in the title');
      return inFirst > 0 ? rung('it stands in the first line') : null;
    },
    ofLines: ({ all }, found) => {
      if (!isExact(found)) return rung('a word is only nearly there');
      const isThere = words.length === 1 || holds(all, phrase.slice(1));
      return rung(isThere ? 'it stands in another line' : 'each word stands somewhere');
    },
  };
}
