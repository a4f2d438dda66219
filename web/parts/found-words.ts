import { SearchWords } from '#music';

export interface Piece {
  readonly text: string;
  /** Whether it is what was looked for. */
  readonly isFound: boolean;
}

function isMeant(word: string, asked: readonly string[]): boolean {
  return asked.some(
    (each) =>
      word.startsWith(each) || SearchWords.lettersApart(each, word) <= SearchWords.mistakesIn(each),
  );
}

/** A line in pieces, so that the words that were looked for can stand out; forgiving as the search is. */
export function piecesOf(line: string, question: string): Piece[] {
  const asked = SearchWords.wordsOf(question);
  return line.split(/([\p{L}\p{N}\p{M}'’]+)/u).flatMap((text, i) => {
    if (text === '') return [];
    return [{ text, isFound: i % 2 === 1 && isMeant(SearchWords.fold(text), asked) }];
  });
}

/** Of the places where something was found, the one that holds most of the words as they were typed; else the first. */
export function bestPlace<Place extends { readonly text: string }>(
  places: readonly Place[],
  question: string,
): Place | undefined {
  const asked = SearchWords.wordsOf(question);
  const held = ({ text }: Place): number => {
    const words = SearchWords.wordsOf(text);
    return asked.filter((each) => words.some((word) => word.startsWith(each))).length;
  };
  return places.reduce<Place | undefined>(
    (best, place) => (best === undefined || held(place) > held(best) ? place : best),
    undefined,
  );
}
