/** A line of the file, told apart by its first characters. `number` counts from 1, `column` of the value too. */
export type Line = { readonly number: number } & (
  | { readonly kind: 'blank' }
  | { readonly kind: 'comment'; readonly text: string }
  | { readonly kind: 'directive'; readonly name: string; readonly value: string }
  | {
      readonly kind: 'field';
      readonly letter: string;
      readonly value: string;
      readonly column: number;
      /** What stands behind `%`. */
      readonly comment: string;
    }
  | { readonly kind: 'music'; readonly text: string; readonly comment: string }
);

export type FieldLine = Extract<Line, { kind: 'field' }>;

const FIELD = /^([A-Za-z+]):(.*)$/s;

/** Lines of a text, whatever ends them (LF, CRLF, CR). */
export function splitLines(text: string): string[] {
  return text.split(/\r\n|\n|\r/);
}

export function linesOf(text: string): Line[] {
  return splitLines(text).map(lineOf);
}

function lineOf(text: string, index: number): Line {
  const number = index + 1;
  if (text.trim() === '') return { number, kind: 'blank' };
  if (text.startsWith('%%') && !text.startsWith('%%%')) {
    const match = /^%%\s*([^\s]*)\s?(.*)$/s.exec(text);
    return { number, kind: 'directive', name: match?.[1] ?? '', value: match?.[2] ?? '' };
  }
  if (text.startsWith('%')) return { number, kind: 'comment', text: text.slice(1) };
  const [body, comment] = splitComment(text);
  if (body.trim() === '') return { number, kind: 'comment', text: comment };
  const field = FIELD.exec(body);
  if (field && isField(field[1] ?? '', field[2] ?? '')) {
    const value = field[2] ?? '';
    const lead = value.length - value.trimStart().length;
    const letter = field[1] ?? '';
    return { number, kind: 'field', letter, value: value.trim(), column: 3 + lead, comment };
  }
  return { number, kind: 'music', text: body, comment };
}

/** A note before a repeat sign (`d:|`, `A::`) looks like a field; only real field letters count. */
function isField(letter: string, value: string): boolean {
  if (/[a-z]/.test(letter)) return 'mrsw'.includes(letter);
  return letter === '+' || !/^[|:]/.test(value);
}

/** What stands before and behind a comment sign that is not escaped. */
export function splitComment(text: string): [body: string, comment: string] {
  for (let i = text.indexOf('%'); i >= 0; i = text.indexOf('%', i + 1)) {
    if (text.charAt(i - 1) !== '\\') return [text.slice(0, i), text.slice(i + 1)];
  }
  return [text, ''];
}

/** The lines of one tune, with what stood before its `X:`. */
export interface TuneLines {
  /** Comments, directives and fields above the tune. */
  readonly preface: readonly Line[];
  readonly lines: readonly Line[];
}

/** Fields of a file's head that hold for all its tunes (ABC 2.1, section 2.2.2); facts there are the first tune's. */
const FOR_ALL = 'LMUm';

/** The settings before the first tune, where an empty line sets them apart from it. */
function fileHead(preface: readonly Line[]): Line[] {
  const blank = preface.findLastIndex(({ kind }) => kind === 'blank');
  return preface
    .slice(0, Math.max(0, blank))
    .filter((line) => line.kind === 'field' && FOR_ALL.includes(line.letter));
}

/** Cuts a file at its `X:` lines; a file without any is one tune if it has fields at all. */
export function splitTunes(lines: readonly Line[]): { tunes: TuneLines[]; outside: Line[] } {
  const tunes: { preface: Line[]; lines: Line[] }[] = [];
  const outside: Line[] = [];
  let waiting: Line[] = [];
  const hasX = lines.some((line) => line.kind === 'field' && line.letter === 'X');
  for (const line of lines) {
    const current = tunes.at(-1);
    const starts = line.kind === 'field' && (line.letter === 'X' || (!hasX && !current));
    if (starts) {
      const head = tunes[0] ? fileHead(tunes[0].preface) : [];
      tunes.push({ preface: [...head, ...waiting], lines: [line] });
      waiting = [];
    } else if (!current) {
      if (line.kind === 'music') outside.push(line);
      else waiting.push(line);
    } else if (line.kind === 'blank' || (waiting.length > 0 && isQuiet(line))) {
      waiting.push(line);
    } else {
      for (const each of waiting) current.lines.push(each);
      current.lines.push(line);
      waiting = [];
    }
  }
  for (const each of waiting) {
    if (tunes.length > 0) tunes.at(-1)?.lines.push(each);
    else if (each.kind === 'field') outside.push(each);
  }
  return { tunes, outside };
}

function isQuiet(line: Line): boolean {
  return line.kind === 'comment' || line.kind === 'directive';
}
