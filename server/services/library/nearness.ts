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

/**
 * On which rung songs stand for a question. Songs that have all its words as they were typed come before those in which
 * one is only nearly there; among them those that have the question in one line, word after word; among these its place
 * decides: title, first line, elsewhere. The last word may be only the beginning of one throughout, but where a title or
 * first line is the whole question.
 */
export function nearnessTo(question: string): (song: FoldedSong) => number {
  const words = SearchWords.wordsOf(question);
  const last = words.at(-1);
  if (last === undefined) return () => 0;
  const phrase = ` ${words.join(' ')}`;
  const whole = `${phrase} `;
  const each = [...new Set(words.slice(0, -1).map((word) => ` ${word} `)), ` ${last}`];
  return ({ title, first, all }) => {
    if (title === whole) return rung('the title is it');
    if (title.startsWith(phrase)) return rung('the title begins so');
    if (first === whole) return rung('the first line is it');
    if (first.startsWith(phrase)) return rung('the first line begins so');
    if (title.includes(phrase)) return rung('it stands in the title');
    if (first.includes(phrase)) return rung('it stands in the first line');
    if (all.includes(phrase)) return rung('it stands in another line');
    return each.every((word) => all.includes(word))
      ? rung('each word stands somewhere')
      : rung('a word is only nearly there');
  };
}
