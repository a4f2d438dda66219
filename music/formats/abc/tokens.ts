import { SHORT } from './decorations.ts';
import { quoted, type Report } from '../report.ts';
import { Scanner, type Room } from './scanner.ts';
import type { BarSign, Token } from './token.ts';

const BAR = /(\.?)(:{0,8})(\[?)(\|{1,8})(\]?)(:{0,8})/y;
const TUPLET = /\((\d{1,3})(?::(\d{0,3}))?(?::(\d{0,3}))?/y;

/** The tokens of one line of music. Whatever is no token is reported with its column; nothing is skipped silently. */
export function tokensOf(
  text: string,
  line: number,
  report: Report,
  symbols: ReadonlyMap<string, string>,
  room: Room,
): Token[] {
  const tokens: Token[] = [];
  const scan = new Scanner(text, line, report, room);
  // Stars at the very end only break lines on paper.
  const music = text.trimEnd().replace(/(?<!\*)\*{1,200}$/, '').length;
  const put = (token: Token | null): void => {
    if (token) tokens.push(token);
  };
  while (scan.at < text.length) {
    const before = scan.at;
    const { column } = scan.here;
    const sign = scan.sign();
    const two = scan.ahead(2);
    if (sign === ' ' || sign === '\t') {
      while (scan.sign() === ' ' || scan.sign() === '\t') scan.at += 1;
      put({ column, kind: 'space' });
    } else if (sign === '"') put(quote(scan));
    else if (/^\[[A-Za-z]:/.test(scan.ahead(3))) put(inline(scan));
    else if (/^\[\s?\d/.test(scan.ahead(3))) put(scan.ending());
    else if (barLine(scan, tokens)) continue;
    else if (sign === '[') put(scan.chord());
    else if (sign === '{') put(scan.grace());
    else if (two === '.-' || sign === '-') {
      scan.at += sign === '.' ? 2 : 1;
      put({ column, kind: 'tie', dotted: sign === '.' });
    } else if (two === '.(' && !/\d/.test(scan.sign(2))) {
      scan.at += 2;
      put({ column, kind: 'slur', opens: true, dotted: true });
    } else if (sign === '(') put(parenthesis(scan));
    else if (sign === ')') {
      scan.at += 1;
      put({ column, kind: 'slur', opens: false, dotted: false });
    } else if (sign === '>' || sign === '<') {
      while (scan.sign() === sign) scan.at += 1;
      put({ column, kind: 'broken', sign, count: scan.at - before });
    } else if (sign === '&') {
      scan.at += 1;
      put({ column, kind: 'overlay' });
    } else if (sign === '!' || sign === '+') put(scan.mark());
    else if ('zxZX'.includes(sign)) {
      scan.at += 1;
      put({ column, kind: 'rest', letter: sign, length: scan.length() });
    } else if (sign === 'y') {
      scan.at += 1; // A spacer: room on paper, no music.
      scan.length();
    } else if (symbols.has(sign) || SHORT[sign] !== undefined) {
      scan.at += 1;
      put({ column, kind: 'decoration', name: symbols.get(sign) ?? SHORT[sign] ?? '' });
    } else if ('`\\$'.includes(sign) || (sign === '*' && before >= music)) {
      scan.at += 1; // Beam spacing, line breaks and line continuation: layout only.
    } else {
      const head = scan.head();
      if (head) put({ column, kind: 'note', head, length: scan.length() });
    }
    if (scan.at === before) scan.stray();
  }
  return tokens;
}

/** A chord symbol or an annotation. */
function quote(scan: Scanner): Token | null {
  const { column } = scan.here;
  const close = scan.text.indexOf('"', scan.at + 1);
  if (close < 0) {
    const shown = quoted(scan.ahead(12));
    scan.problem('quote-not-closed', `The words that begin ${shown} have no closing quote.`);
    scan.at = scan.text.length;
    return null;
  }
  const text = scan.text.slice(scan.at + 1, close);
  scan.at = close + 1;
  return { column, kind: 'text', text };
}

/** `[K:G]` and the like. */
function inline(scan: Scanner): Token | null {
  const { column } = scan.here;
  const close = scan.text.indexOf(']', scan.at);
  if (close < 0) {
    scan.problem('field-not-closed', `The field ${quoted(scan.ahead(12))} has no ].`);
    scan.at = scan.text.length;
    return null;
  }
  const letter = scan.sign(1);
  const value = scan.text.slice(scan.at + 3, close).trim();
  scan.at = close + 1;
  return { column, kind: 'inline', letter, value };
}

/** A bar line, with the ending whose figure stands right behind it. */
function barLine(scan: Scanner, tokens: Token[]): boolean {
  const place = scan.here;
  const { column } = place;
  const found = scan.match(BAR);
  if (found) {
    const [all, dot = '', ends = '', thick = '', bars = '', final = '', starts = ''] = found;
    scan.at += all.length;
    const sign: BarSign = {
      line: lineOf(dot, ends, thick, bars, final),
      repeatStart: starts !== '',
      repeatEnd: ends !== '',
    };
    tokens.push({ column, kind: 'bar', ...sign });
    if (ends.length > 1 || starts.length > 1) {
      const words = `The repeat ${quoted(all)} asks for more than two times; it is read as two.`;
      scan.warn('repeat-count', words, place);
    }
    const ending = /^\d/.test(scan.sign()) ? scan.ending() : null;
    if (ending) tokens.push(ending);
    return true;
  }
  if (scan.ahead(2) !== '::') return false;
  scan.at += 2;
  tokens.push({ column, kind: 'bar', line: 'final', repeatStart: true, repeatEnd: true });
  return true;
}

function lineOf(
  dot: string,
  ends: string,
  thick: string,
  bars: string,
  final: string,
): BarSign['line'] {
  if (thick !== '' && final !== '') return 'none'; // [|]
  if (final !== '' || ends !== '') return 'final';
  if (thick !== '' || bars.length > 1) return 'double';
  return dot === '' ? 'single' : 'dashed';
}

/** A tuplet or a slur. */
function parenthesis(scan: Scanner): Token | null {
  const { column } = scan.here;
  const found = scan.match(TUPLET);
  if (found) {
    scan.at += found[0].length;
    const number = (part: string | undefined): number | null => (part ? Number(part) : null);
    const [, p, q, r] = found;
    return { column, kind: 'tuplet', p: Number(p), q: number(q), r: number(r) };
  }
  if (scan.sign(1) === '&') {
    const words = 'An overlay over several bars, (& … &), is not read.';
    scan.problem('overlay-over-bars', words);
    scan.at += 2;
    return null;
  }
  scan.at += 1;
  return { column, kind: 'slur', opens: true, dotted: false };
}
