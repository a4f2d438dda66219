import { SearchWords } from '#music';

/** Names of hymn meters that are said for the figures (en.wikipedia.org/wiki/Metre_(hymn); CPM, CME by the same list). */
const NAMED: Readonly<Record<string, string>> = {
  cm: '8 6 8 6',
  lm: '8 8 8 8',
  sm: '6 6 8 6',
  cmd: '8 6 8 6 8 6 8 6',
  lmd: '8 8 8 8 8 8 8 8',
  smd: '6 6 8 6 6 6 8 6',
  cpm: '8 8 6 8 8 6',
  hm: '6 6 6 6 8 8',
  cme: '8 6 8 8 6',
};
const SPOKEN: readonly (readonly [RegExp, string])[] = [
  [/^common (meter|metre)/, 'cm'],
  [/^long (meter|metre)/, 'lm'],
  [/^short (meter|metre)/, 'sm'],
  [/ doubled?$/, 'd'],
];

/** One way of writing for all: `8.6.8.6`, `86.86`, `8686`, `CM`, `C.M.`; `8.7.8.7 D` is written out. Null: it is no meter. */
export function plainMeter(text: string): string | null {
  let words = text.toLowerCase().replaceAll('.', ' ').trim();
  for (const [spoken, short] of SPOKEN) words = words.replace(spoken, short);
  const name = words.replaceAll(/\s/g, '');
  if (NAMED[name]) return NAMED[name];
  const found = /^[\d\s,:.-]+/.exec(words);
  if (!found) return SearchWords.wordsOf(words).join(' ') || null;
  const parts = found[0].match(/\d+/g) ?? [];
  // Figures that stand together are a line each, but for tens: 10 10, 11 11.
  const lines = parts.flatMap((part) => (part.length > 2 || isTwoLines(part) ? [...part] : [part]));
  const doubled = /^\s*d\b/.test(words.slice(found[0].length));
  return (doubled ? [...lines, ...lines] : lines).join(' ');
}

/** Lines have up to nineteen syllables: `86` are two lines, `10` and `15` are one. */
const isTwoLines = (part: string): boolean => part.length === 2 && Number(part) > 19;

export function sameMeter(one: string | null, other: string | null): boolean {
  if (one === null || other === null) return false;
  const [a, b] = [plainMeter(one), plainMeter(other)];
  return a !== null && a === b;
}

/** Figures alone do not say whether words fit a tune. */
export const STRESS_CAUTION =
  'The same figures are not enough: the stressed syllables must fall on the strong beats too. Most 8.6.8.6 are iambic (a MA-zing GRACE), most 8.7.8.7 trochaic (ALL the PEO-ple): sing a verse through before you choose.';
