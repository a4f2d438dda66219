/** A stretch of a line without spaces, with where it stands in the text and where it stands on the page. */
export interface Token {
  readonly text: string;
  /** 0-based place in the line, UTF-16 units. */
  readonly index: number;
  /** 0-based column of its first letter as it is seen, and of what follows its last. */
  readonly column: number;
  readonly end: number;
}

/** Tabs lead to the next column that is a multiple of this (common practice of editors and terminals). */
const TAB = 8;
const NO_WIDTH = /[\p{M}\p{Cf}\p{Cc}]/u;
/** Letters that take two columns (Unicode Standard Annex 11, East Asian Width W and F, in whole blocks). */
const WIDE =
  /[\u1100-\u115F\u2E80-\uA4CF\uA960-\uA97F\uAC00-\uD7A3\uF900-\uFAFF\uFE30-\uFE6F\uFF00-\uFF60\uFFE0-\uFFE6\u{1F300}-\u{1FAFF}\u{20000}-\u{3FFFD}]/u;

/** Columns that a sign takes: combining marks none, full-width letters two. */
function widthOf(sign: string): number {
  const code = sign.codePointAt(0) ?? 0;
  if (code >= 0x20 && code < 0x7f) return 1;
  return NO_WIDTH.test(sign) ? 0 : WIDE.test(sign) ? 2 : 1;
}

/** Columns that a text takes. */
export function columnsOf(text: string): number {
  let columns = 0;
  for (const sign of text) columns += widthOf(sign);
  return columns;
}

/** The words of a line: what stands between spaces. */
export function wordsOf(line: string): Token[] {
  return tokens(line, /\S+/gu);
}

/** The same with bar lines and repeat signs apart from the chords that touch them: `|G` is a bar line and a chord. */
export function signsOf(line: string): Token[] {
  return tokens(line, /\|:|:\|:?|\|\]|\|\|?|[^\s|]+?(?=:?\||\s|$)/gu);
}

function tokens(line: string, pattern: RegExp): Token[] {
  const found: Token[] = [];
  let index = 0;
  let column = 0;
  for (const match of line.matchAll(pattern)) {
    for (const sign of line.slice(index, match.index)) {
      column = sign === '\t' ? (Math.floor(column / TAB) + 1) * TAB : column + widthOf(sign);
    }
    const end = column + columnsOf(match[0]);
    found.push({ text: match[0], index: match.index, column, end });
    index = match.index + match[0].length;
    column = end;
  }
  return found;
}

/** The place in a token's text, UTF-16 units, of the sign that stands at a column of the line. */
export function placeIn(token: Token, column: number): number {
  let at = token.column;
  let place = 0;
  for (const sign of token.text) {
    const width = widthOf(sign);
    if (width > 0 && at + width > column) return place;
    at += width;
    place += sign.length;
  }
  return place;
}
