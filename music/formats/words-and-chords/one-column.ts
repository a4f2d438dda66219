import { headingOf, prefixOf } from './headings.ts';

/** Text in two columns has so many blank columns between them, at least. */
const GUTTER = 3;
/** … and so many lines that have something on both sides. */
const FEWEST = 3;
const TAB = 8;

/** Tabs as the spaces they lead over. */
function spread(line: string): string {
  if (!line.includes('\t')) return line;
  let text = '';
  for (const sign of line) {
    text += sign === '\t' ? ' '.repeat(TAB - (text.length % TAB)) : sign;
  }
  return text;
}

/** Words, with no gap among them as wide as the one between columns. */
const isSung = (text: string): boolean =>
  /\p{L}{2,}\s+\p{L}{2,}|\p{Ll}{4,}/u.test(text) && !/\S {3,}\S/.test(text.trim());

/** Columns at which something begins after a wide gap, and in how many lines. */
function beginnings(lines: readonly string[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const line of lines) {
    for (const { index, 0: gap } of line.matchAll(/(?<=\S) {3,}(?=\S)/g)) {
      const at = index + gap.length;
      counts.set(at, (counts.get(at) ?? 0) + 1);
    }
  }
  return counts;
}

/** Whether the gap before a column runs through all lines, and words, or headings over words, stand on both sides. */
function parts(lines: readonly string[], at: number): boolean {
  let [both, headed] = [0, 0];
  // A line that comes again says nothing new: what is wide in it is a held note.
  const sung = new Set<string>();
  for (const line of lines) {
    if (line.slice(at - GUTTER, at).trim() !== '') return false;
    const sides = [line.slice(0, at).trim(), line.slice(at).trim()];
    if (sides.includes('')) continue;
    both += 1;
    if (sides.every((side) => headingOf(side))) headed += 1;
    else if (sides.every(isSung)) sung.add(line.trim());
  }
  return both >= FEWEST && (sung.size >= 2 || (headed > 0 && sung.size > 0));
}

/** A text whose second column stands under the first. */
export interface OneColumn {
  readonly lines: readonly string[];
  /** What stood below both columns and is sung after every verse of them; null: nothing did. */
  readonly after: string | null;
}

/** The line from which on a refrain or chorus stands below both columns; the end where none does. */
function below(lines: readonly string[], at: number): number {
  const lastBeside = lines.findLastIndex((line) => {
    const [left, right] = [line.slice(0, at).trim(), line.slice(at).trim()];
    const isApart = line.slice(at - GUTTER, at).trim() === '';
    return isApart && right !== '' && (left === '' || isSung(right) || headingOf(right) !== null);
  });
  const from = lines.findIndex(
    (line, i) => i > lastBeside && lines[i - 1]?.trim() === '' && isForAll(line),
  );
  return from > 0 ? from : lines.length;
}

const isForAll = (line: string): boolean =>
  ['refrain', 'chorus'].includes(headingOf(line)?.kind ?? '');

const isVerse = (line: string): boolean =>
  (headingOf(line) ?? prefixOf(line)?.heading)?.kind === 'verse';

/** The columns with what stands below both sung after each of their verses: whole after the first, by its name after the others. */
function withAfter(columns: readonly string[], foot: readonly string[]): OneColumn | null {
  const [name = ''] = foot;
  const verses = columns.flatMap((line, i) => (isVerse(line) ? [i] : []));
  const own = headingOf(name)?.name;
  const isThere = columns.some((line) => headingOf(line)?.name === own);
  if (own === undefined || isThere || verses.length < 2) return null;
  const next = foot.findIndex((line, i) => i > 0 && headingOf(line) !== null);
  const [whole, rest] = next < 0 ? [foot, []] : [foot.slice(0, next), foot.slice(next)];
  const lines = verses.flatMap((from, i) => [
    ...(i === 0 ? columns.slice(0, from) : []),
    ...columns.slice(from, verses[i + 1]),
    '',
    ...(i === 0 ? whole : [name]),
    '',
  ]);
  return { lines: [...lines, ...rest], after: own };
}

/**
 * A text that stands in two columns, as it is pasted from a page, with the second under the first; null: it stands in
 * one. Lines over the columns, such as the title, stay over them. A column is one where the same gap of three blanks or
 * more runs through all lines from some line on, with something on both sides in three lines at least, and words in two, or
 * in one under two headings. A refrain or chorus below both columns is sung after every verse of them.
 */
export function inOneColumn(given: readonly string[]): OneColumn | null {
  const lines = given.map((line) => spread(line.trimEnd()));
  const likely = [...beginnings(lines)]
    .filter(([, count]) => count >= FEWEST)
    .sort(([at, count], [other, others]) => others - count || at - other)
    .slice(0, 20);
  for (const [at] of likely) {
    const end = below(lines, at);
    const [beside, foot] = [lines.slice(0, end), lines.slice(end)];
    // Over the columns one line may be as long as it likes: they begin after the last that crosses, or stands alone.
    const crossing = beside.findLastIndex((line) => line.slice(at - GUTTER, at).trim() !== '');
    if (crossing >= beside.length / 2 || !parts(beside.slice(crossing + 1), at)) continue;
    const [head, body] = [beside.slice(0, crossing + 1), beside.slice(crossing + 1)];
    const first = body.findIndex((line) => line.slice(at).trim() !== '');
    const over = body.slice(0, first);
    const columns = body.slice(first);
    const left = columns.map((line) => line.slice(0, at).trimEnd());
    const right = columns.map((line) => line.slice(at));
    const under = [...left, '', ...right];
    const found = withAfter(under, foot) ?? { lines: [...under, '', ...foot], after: null };
    return { ...found, lines: [...head, ...over, ...found.lines] };
  }
  return null;
}
