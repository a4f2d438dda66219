import { SearchWords, type LibraryEntry } from '#music';

/** Title and first line of a song as they are compared with a question: words folded, one space before and behind each. */
export interface Heads {
  readonly title: string;
  readonly first: string;
}

export function headsOf({ title, firstLine }: LibraryEntry): Heads {
  const folded = (text: string): string => ` ${SearchWords.wordsOf(text).join(' ')} `;
  return { title: folded(title), first: folded(firstLine ?? '') };
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

/** What of a song decides where title and first line tell nothing. */
export interface InLines {
  /** Each word stands there as it was typed, the last perhaps begun. */
  readonly isExact: boolean;
  /** Whether they stand in one line, word after word; asked only where it counts. */
  readonly hasPhrase: () => boolean;
}

/** On which rung a song stands, by its title and first line, and, if these do not tell, by all its lines. */
export interface Nearness {
  /** null: neither title nor first line has the question. */
  ofHeads(heads: Heads): number | null;
  /** Of a song of which title and first line tell nothing; it is farther than any that they tell of, and takes longer. */
  ofLines(song: InLines): number;
}

/**
 * On which rung songs stand for a question. Songs that have all its words as they were typed come before those in which
 * one is only nearly there; among them those that have the question in one line, word after word; among these its place
 * decides: title, first line, elsewhere. The last word may be only the beginning of one throughout, but where a title or
 * first line is the whole question.
 */
export function nearnessTo(question: string): Nearness {
  const words = SearchWords.wordsOf(question);
  if (words.length === 0) return { ofHeads: () => 0, ofLines: () => 0 };
  const phrase = ` ${words.join(' ')}`;
  const whole = `${phrase} `;
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
    ofLines: ({ isExact, hasPhrase }) => {
      if (!isExact) return rung('a word is only nearly there');
      const isThere = words.length === 1 || hasPhrase();
      return rung(isThere ? 'it stands in another line' : 'each word stands somewhere');
    },
  };
}
