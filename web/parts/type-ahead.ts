/** Something that can be found by its words. */
export interface Option {
  readonly id: string;
  readonly words: string;
  /** Said beside it, and looked in as well: the name of a tune. */
  readonly aside: string;
}

/** As many as a phone shows above its keyboard. */
const SHOWN = 6;

/** Without accents and case: `cafe` finds “Café”. */
function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLocaleLowerCase().trim();
}

/** Those whose words begin so first, then a word of them, then any place of words and aside. */
function rank({ words, aside }: Option, wanted: string): number | null {
  const title = plain(words);
  if (title.startsWith(wanted)) return 0;
  if (title.split(/[^\p{L}\p{N}]+/u).some((word) => word.startsWith(wanted))) return 1;
  return `${title} ${plain(aside)}`.includes(wanted) ? 2 : null;
}

/** The options that fit what was typed, the likeliest first, then by name. */
export function found(options: readonly Option[], text: string): Option[] {
  const wanted = plain(text);
  return options
    .flatMap((option) => {
      const at = rank(option, wanted);
      return at === null ? [] : [{ option, at }];
    })
    .toSorted((a, b) => a.at - b.at || a.option.words.localeCompare(b.option.words))
    .slice(0, SHOWN)
    .map(({ option }) => option);
}
