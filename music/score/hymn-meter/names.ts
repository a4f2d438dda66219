/**
 * Names of hymn meters as hymnals print them. Figures and names: the article “Metre (hymn)” of the English Wikipedia and
 * the glossary of LilyPond; CPM, HM and CME are rarer than the rest.
 */
const NAMES: Readonly<Record<string, string>> = {
  '8.6.8.6': 'CM',
  '8.8.8.8': 'LM',
  '6.6.8.6': 'SM',
  '8.8.6.8.8.6': 'CPM',
  '6.6.6.6.8.8': 'HM',
  '6.6.6.6.4.4.4.4': 'HM',
  '8.6.8.8.6': 'CME',
};

/** Of each name its lines; the first of two forms. */
export const FIGURES: ReadonlyMap<string, readonly number[]> = new Map(
  Object.entries(NAMES)
    .map(([figures, name]): [string, number[]] => [name, figures.split('.').map(Number)])
    .reverse(),
);

/** `CM`, `LMD`, `8.7.8.7 D`; null: these lines have no shorter name than their figures. */
export function nameOf(lines: readonly number[]): string | null {
  const own = NAMES[lines.join('.')];
  if (own) return own;
  const half = lines.slice(0, lines.length / 2);
  const figures = half.join('.');
  if (half.length < 4 || `${figures}.${figures}` !== lines.join('.')) return null;
  const name = NAMES[figures];
  return name ? `${name}D` : `${figures} D`;
}
