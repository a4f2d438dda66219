/**
 * Of a letter in the size of notes (15 px) of the serif, px. The widest of each kind as the font files of Source Serif 4
 * have it (W 1005, M 935, m 955, H 814, n 643 of 1000 units an em), rounded up.
 */
const WIDTHS: readonly (readonly [RegExp, number])[] = [
  [/[MWmw]/u, 15.1],
  [/\p{Lu}/u, 12.3],
  [/[fijlrtſ]/u, 7],
  [/[-,;.:!’‘]/u, 5],
];
const OTHER = 9.8;

/** How wide a word may be at most in the size of notes, px. */
export function widthOfWord(word: string): number {
  return [...word].reduce(
    (sum, letter) => sum + (WIDTHS.find(([kind]) => kind.test(letter))?.[1] ?? OTHER),
    0,
  );
}
