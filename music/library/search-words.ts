/** Letters that Unicode does not take apart into a plain letter and a mark (NFD), as they are typed without them. */
const PLAIN: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  ı: 'i',
};

/** As words are compared: lower case, without accents and apostrophes (`God’s` is `gods`, `o’er` is `oer`). */
export function fold(text: string): string {
  return text
    .normalize('NFD')
    .replaceAll(/[\p{M}'’‘ʼ`´]/gu, '')
    .toLowerCase()
    .replaceAll(/[ßæœøđðþłı]/g, (letter) => PLAIN[letter] ?? letter);
}

/** The words of a text in order, folded: runs of letters and figures. */
export function wordsOf(text: string): string[] {
  return fold(text).match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** Texts without those that another before them is, but for capitals, accents and marks; as each was written first. */
export function eachOnce(texts: readonly string[]): string[] {
  const first = new Map<string, string>();
  for (const text of texts) {
    // What has no letters is compared as it stands.
    const words = wordsOf(text).join(' ') || text;
    if (!first.has(words)) first.set(words, text);
  }
  return [...first.values()];
}

/**
 * How many slips a word that was asked may hold, each a letter that is wrong, missing or too many, or two neighbours that
 * are swapped: up to three letters none, four to seven one, from eight on two. Shorter words would find half the language.
 * (Our own choice, as is usual for search boxes.)
 */
export function mistakesIn(word: string): 0 | 1 | 2 {
  return word.length < 4 ? 0 : word.length < 8 ? 1 : 2;
}

/**
 * Single letters that change, are left out or put in, and neighbours that are swapped, where no letter is touched twice:
 * the optimal string alignment (Boytsov 2011, “Indexing methods for approximate dictionary searching”, 2.2). Swaps are
 * one slip of the fingers (Damerau 1964).
 */
export function lettersApart(one: string, other: string): number {
  let before: number[] = [];
  let row = Array.from({ length: other.length + 1 }, (_, i) => i);
  for (let i = 1; i <= one.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= other.length; j += 1) {
      const change = (row[j - 1] ?? 0) + (one[i - 1] === other[j - 1] ? 0 : 1);
      let least = Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1);
      const isSwap = i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1];
      if (isSwap) least = Math.min(least, (before[j - 2] ?? 0) + 1);
      next.push(least);
    }
    [before, row] = [row, next];
  }
  return row[other.length] ?? 0;
}
