import { SearchWords } from '#music';

/** Numbers of words that a word is asked for, by how like it they are; each word stands in one of the lists. */
export interface LikeWords {
  readonly same: readonly number[];
  /** They begin with it. */
  readonly begun: readonly number[];
  /** It is one of them with the mistakes that its length allows. */
  readonly nearly: readonly number[];
}

/**
 * Which letters a word has, as bits; rare letters share some. One slip takes away a letter at most and brings one, so that
 * it changes two bits at most, and a swap none.
 */
function lettersOf(word: string): number {
  let bits = 0;
  for (let i = 0; i < word.length; i += 1) {
    const letter = word.charCodeAt(i) - 97;
    bits |= 1 << (letter >= 0 && letter < 26 ? letter : 26 + (word.charCodeAt(i) % 6));
  }
  return bits;
}

/** How many bits are set, by Kernighan's way: a turn for each. */
function bitsIn(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}

/** Every word of a book once, folded, with a number. What no song has any longer stays: it finds nothing. */
export class Vocabulary {
  readonly #numbers = new Map<string, number>();
  readonly #words: string[] = [];
  /** `lettersOf` each word, so that few of them have to be held against what is asked letter by letter. */
  readonly #letters: number[] = [];

  /** Its number, which it gets now if it is new. */
  add(word: string): number {
    const there = this.#numbers.get(word);
    if (there !== undefined) return there;
    const number = this.#words.push(word) - 1;
    this.#numbers.set(word, number);
    this.#letters.push(lettersOf(word));
    return number;
  }

  /** undefined: there is no such word. */
  numberOf(word: string): number | undefined {
    return this.#numbers.get(word);
  }

  /** The words that are meant by one that is asked. @param isOpen whether it may be only the beginning of one */
  like(asked: string, isOpen: boolean): LikeWords {
    const same = this.#numbers.get(asked);
    const begun: number[] = [];
    const nearly: number[] = [];
    const most = SearchWords.mistakesIn(asked);
    const letters = lettersOf(asked);
    for (let number = 0; (isOpen || most > 0) && number < this.#words.length; number += 1) {
      if (number === same) continue;
      const there = this.#letters[number] ?? 0;
      if (isOpen && (letters & ~there) === 0 && this.#words[number]?.startsWith(asked)) {
        begun.push(number);
        continue;
      }
      if (most === 0 || bitsIn(letters ^ there) > 2 * most) continue;
      const word = this.#words[number] ?? '';
      if (Math.abs(word.length - asked.length) > most) continue;
      if (SearchWords.lettersApart(asked, word) <= most) nearly.push(number);
    }
    return { same: same === undefined ? [] : [same], begun, nearly };
  }
}
