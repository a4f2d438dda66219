import { alterOf } from './fields.ts';
import { knownPrefix, SHORT } from './decorations.ts';
import { quoted, type Report } from './report.ts';

/** A written length as a fraction of the unit note. */
export interface Length {
  readonly over: number;
  readonly under: number;
}

/** One head: a letter with its accidental and octave. `octave` is the scientific one: `C` is C4, `c` C5. */
export interface Head {
  readonly letter: string;
  readonly octave: number;
  /** Semitones where an accidental is written. */
  readonly accidental: number | null;
}

export interface BarSign {
  readonly line: 'single' | 'double' | 'final' | 'none' | 'dashed';
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
}

export type Token = { readonly column: number } & (
  | { readonly kind: 'note'; readonly head: Head; readonly length: Length }
  | { readonly kind: 'rest'; readonly letter: string; readonly length: Length }
  | {
      readonly kind: 'chord';
      readonly heads: readonly (Head & {
        readonly length: Length;
        readonly tied: boolean;
        readonly finger: number | null;
      })[];
      readonly length: Length;
    }
  | { readonly kind: 'grace'; readonly heads: readonly Head[] }
  | ({ readonly kind: 'bar' } & BarSign)
  | { readonly kind: 'ending'; readonly numbers: readonly number[] }
  | {
      readonly kind: 'tuplet';
      readonly p: number;
      readonly q: number | null;
      readonly r: number | null;
    }
  | { readonly kind: 'slur'; readonly opens: boolean; readonly dotted: boolean }
  | { readonly kind: 'tie'; readonly dotted: boolean }
  | { readonly kind: 'broken'; readonly sign: '>' | '<'; readonly count: number }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'decoration'; readonly name: string }
  | { readonly kind: 'inline'; readonly letter: string; readonly value: string }
  | { readonly kind: 'overlay' }
  | { readonly kind: 'space' }
);

const HEAD = /(\^{1,2}|_{1,2}|=)?([A-Ga-g])([,']*)/y;
const LENGTH = /(\d*)(\/*)(\d*)/y;
const BAR = /(\.?)(:{0,8})(\[?)(\|{1,8})(\]?)(:{0,8})/y;
const TUPLET = /\((\d{1,3})(?::(\d{0,3}))?(?::(\d{0,3}))?/y;
const MARK = /([!+])([^!+\s"|[\]]{1,40})\1/y;
const ENDING = /\[?\s?(\d{1,2}(?:\s?[,-]\s?\d{1,2}){0,10})\.?/y;

/** The tokens of one line of music. Whatever is no token is reported with its column; nothing is skipped silently. */
export function tokensOf(
  text: string,
  line: number,
  report: Report,
  symbols: ReadonlyMap<string, string>,
): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  const ending = text.trimEnd().replace(/(?<!\*)\*{1,200}$/, '').length; // Stars at the end only break lines.
  const match = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = at;
    return pattern.exec(text);
  };
  const here = (): { line: number; column: number } => ({ line, column: at + 1 });

  const readLength = (): Length => {
    const found = match(LENGTH);
    if (!found || found[0] === '') return { over: 1, under: 1 };
    const [all, over = '', slashes = '', under = ''] = found;
    if (slashes === '' && over === '') return { over: 1, under: 1 };
    const place = here();
    at += slashes === '' ? over.length : all.length;
    const divisor = under === '' ? 2 ** slashes.length : Number(under);
    const length = { over: over === '' ? 1 : Number(over), under: slashes === '' ? 1 : divisor };
    if (
      length.over < 1 ||
      length.under < 1 ||
      length.over > 9_999_999 ||
      length.under > 9_999_999
    ) {
      report.problem('length-impossible', `A note cannot be ${quoted(all)} long.`, place);
      return { over: 1, under: 1 };
    }
    return length;
  };

  const readHead = (): Head | null => {
    const found = match(HEAD);
    if (!found) return null;
    const [all, sign, letter = '', marks = ''] = found;
    if (/^[/\d]/.test(text.charAt(at + (sign?.length ?? 0)))) return null;
    at += all.length;
    const ups = marks.split("'").length - 1;
    const octave = (letter >= 'a' ? 5 : 4) + ups - (marks.length - ups);
    if (octave < 0 || octave > 9) {
      report.problem(
        'pitch-impossible',
        `The note ${quoted(all)} is beyond anything that sounds.`,
        here(),
      );
    }
    return {
      letter: letter.toUpperCase(),
      octave: Math.min(9, Math.max(0, octave)),
      accidental: sign === undefined ? null : alterOf(sign),
    };
  };

  const readChord = (): Token | null => {
    const start = at;
    const column = at + 1;
    at += 1;
    const heads: (Head & { length: Length; tied: boolean; finger: number | null })[] = [];
    let finger: number | null = null;
    while (at < text.length && text.charAt(at) !== ']') {
      const mark = match(/!([1-5])!/y);
      if (mark) {
        finger = Number(mark[1]);
        at += mark[0].length;
        continue;
      }
      const sign = text.charAt(at);
      const head = readHead();
      if (head) {
        const length = readLength();
        const tied = text.charAt(at) === '-';
        if (tied) at += 1;
        heads.push({ ...head, length, tied, finger });
        finger = null;
      } else if (sign === ' ') {
        at += 1;
      } else if (/[.!(~HTLMPSOuv)]/.test(sign)) {
        report.warn(
          'sign-in-chord',
          `The sign ${quoted(sign)} inside a chord is left out.`,
          here(),
        );
        at += 1;
      } else break;
    }
    if (text.charAt(at) !== ']' || heads.length === 0) {
      const shown = quoted(text.slice(start, start + 12));
      report.problem('chord-not-closed', `The chord that begins ${shown} has no end.`, {
        line,
        column,
      });
      at = Math.max(at, start + 1);
      return null;
    }
    at += 1;
    return { column, kind: 'chord', heads, length: readLength() };
  };

  const readGrace = (): Token | null => {
    const column = at + 1;
    const close = text.indexOf('}', at);
    if (close < 0) {
      report.problem('grace-not-closed', 'Grace notes are opened with { and never closed.', {
        line,
        column,
      });
      at = text.length;
      return null;
    }
    at += text.charAt(at + 1) === '/' ? 2 : 1;
    const heads: Head[] = [];
    while (at < close) {
      const head = readHead();
      if (head) {
        heads.push(head);
        readLength();
      } else {
        if (!/[\s[\]()-]/.test(text.charAt(at))) {
          report.warn(
            'sign-in-grace',
            `${quoted(text.charAt(at))} among grace notes is left out.`,
            here(),
          );
        }
        at += 1;
      }
    }
    at = close + 1;
    return { column, kind: 'grace', heads };
  };

  const readEnding = (column: number): void => {
    const found = match(ENDING);
    if (!found) return;
    at += found[0].length;
    const numbers: number[] = [];
    for (const part of (found[1] ?? '').split(',')) {
      const [from = 0, to = from] = part.split('-').map(Number);
      for (let n = from; n <= to && numbers.length < 20; n += 1) numbers.push(n);
    }
    tokens.push({ column, kind: 'ending', numbers });
  };

  while (at < text.length) {
    const before = at;
    const column = at + 1;
    const sign = text.charAt(at);
    if (sign === ' ' || sign === '\t') {
      while (text.charAt(at) === ' ' || text.charAt(at) === '\t') at += 1;
      tokens.push({ column, kind: 'space' });
    } else if (sign === '"') {
      const close = text.indexOf('"', at + 1);
      if (close < 0) {
        const shown = quoted(text.slice(at, at + 12));
        report.problem(
          'quote-not-closed',
          `The words that begin ${shown} have no closing quote.`,
          here(),
        );
        at = text.length;
      } else {
        tokens.push({ column, kind: 'text', text: text.slice(at + 1, close) });
        at = close + 1;
      }
    } else if (sign === '[' && /^\[[A-Za-z]:/.test(text.slice(at, at + 3))) {
      const close = text.indexOf(']', at);
      if (close < 0) {
        report.problem(
          'field-not-closed',
          `The field ${quoted(text.slice(at, at + 12))} has no ].`,
          here(),
        );
        at = text.length;
      } else {
        const value = text.slice(at + 3, close).trim();
        tokens.push({ column, kind: 'inline', letter: text.charAt(at + 1), value });
        at = close + 1;
      }
    } else if (sign === '[' && /^\[\s?\d/.test(text.slice(at, at + 3))) {
      readEnding(column);
    } else if (match(BAR) || sign === ':') {
      const found = match(BAR);
      if (found) {
        const [all, dot = '', ends = '', thick = '', bars = '', final = '', starts = ''] = found;
        at += all.length;
        const line1 =
          thick !== '' && final !== ''
            ? 'none'
            : final !== '' || ends !== ''
              ? 'final'
              : thick !== '' || bars.length > 1
                ? 'double'
                : dot !== ''
                  ? 'dashed'
                  : 'single';
        tokens.push({
          column,
          kind: 'bar',
          line: line1,
          repeatStart: starts !== '',
          repeatEnd: ends !== '',
        });
        if (ends.length > 1 || starts.length > 1) {
          report.warn(
            'repeat-count',
            `The repeat ${quoted(all)} asks for more than two times; it is read as two.`,
            { line, column },
          );
        }
        if (/^\d/.test(text.slice(at, at + 1))) readEnding(at + 1);
      } else if (text.startsWith('::', at)) {
        at += 2;
        tokens.push({ column, kind: 'bar', line: 'final', repeatStart: true, repeatEnd: true });
      }
    } else if (sign === '[') {
      const chord = readChord();
      if (chord) tokens.push(chord);
    } else if (sign === '{') {
      const grace = readGrace();
      if (grace) tokens.push(grace);
    } else if (sign === '.' && text.charAt(at + 1) === '-') {
      at += 2;
      tokens.push({ column, kind: 'tie', dotted: true });
    } else if (
      sign === '.' &&
      text.charAt(at + 1) === '(' &&
      !/^\d/.test(text.slice(at + 2, at + 3))
    ) {
      at += 2;
      tokens.push({ column, kind: 'slur', opens: true, dotted: true });
    } else if (sign === '(') {
      const found = match(TUPLET);
      if (found) {
        at += found[0].length;
        const number = (part: string | undefined): number | null => (part ? Number(part) : null);
        tokens.push({
          column,
          kind: 'tuplet',
          p: Number(found[1]),
          q: number(found[2]),
          r: number(found[3]),
        });
      } else {
        at += 1;
        if (text.charAt(at) === '&') {
          report.problem(
            'overlay-over-bars',
            'An overlay over several bars, (& … &), is not read.',
            here(),
          );
          at += 1;
        } else tokens.push({ column, kind: 'slur', opens: true, dotted: false });
      }
    } else if (sign === ')') {
      at += 1;
      tokens.push({ column, kind: 'slur', opens: false, dotted: false });
    } else if (sign === '-') {
      at += 1;
      tokens.push({ column, kind: 'tie', dotted: false });
    } else if (sign === '>' || sign === '<') {
      while (text.charAt(at) === sign) at += 1;
      tokens.push({ column, kind: 'broken', sign, count: at - before });
    } else if (sign === '&') {
      at += 1;
      tokens.push({ column, kind: 'overlay' });
    } else if (sign === '!' || sign === '+') {
      readMark(column);
    } else if ('zxZX'.includes(sign)) {
      at += 1;
      tokens.push({ column, kind: 'rest', letter: sign, length: readLength() });
    } else if (sign === 'y') {
      at += 1; // A spacer: room on paper, no music.
      readLength();
    } else if (symbols.has(sign) || SHORT[sign] !== undefined) {
      at += 1;
      tokens.push({ column, kind: 'decoration', name: symbols.get(sign) ?? SHORT[sign] ?? '' });
    } else if (sign === '`' || sign === '\\' || sign === '$' || (sign === '*' && at >= ending)) {
      at += 1; // Beam spacing, line breaks and line continuation: layout only.
    } else {
      const head = readHead();
      if (head) {
        tokens.push({ column, kind: 'note', head, length: readLength() });
      } else {
        stray(column);
      }
    }
    if (at === before) stray(column);
  }
  return tokens;

  function stray(column: number): void {
    const quarter = /^(\^{1,3}|_{1,3})\d?\/?\d?[A-Ga-g]/.exec(text.slice(at, at + 6));
    if (quarter) {
      report.problem(
        'accidental-not-held',
        `The accidental in ${quoted(quarter[0])} cannot be written here.`,
        { line, column },
      );
    } else {
      report.warn('stray-sign', `${quoted(text.charAt(at))} means nothing here and is left out.`, {
        line,
        column,
      });
    }
    at += 1;
  }

  function readMark(column: number): void {
    const found = match(MARK);
    const sign = text.charAt(at);
    if (found) {
      at += found[0].length;
      tokens.push({ column, kind: 'decoration', name: found[2] ?? '' });
      return;
    }
    const name = knownPrefix(text.slice(at + 1, at + 24));
    if (name !== null && sign === '!') {
      report.warn('sign-not-closed', `The sign !${name} has no closing !.`, { line, column });
      tokens.push({ column, kind: 'decoration', name });
      at += 1 + name.length;
      return;
    }
    const open = /^[!+][^\s|!+]/.test(text.slice(at, at + 2));
    if (open && sign === '!') {
      const shown = quoted(text.slice(at, at + 12));
      report.problem('sign-not-closed', `The sign that begins ${shown} has no closing !.`, {
        line,
        column,
      });
      at = text.length;
      return;
    }
    report.warn('stray-sign', `${quoted(sign)} means nothing here and is left out.`, {
      line,
      column,
    });
    at += 1;
  }
}
