import type { NameReading } from './chord-names.ts';
import { judgeChord, saidChord } from './chord-tokens.ts';
import { wordsOf, type Token } from './columns.ts';
import type { Decision, Weighed } from './decide.ts';
import type { Fact } from './facts.ts';
import { timesOf, type Heading } from './headings.ts';
import type { KnownLine, LineMarks, ReadWord } from './line.ts';
import { none, quoted, said, takeChord, takeOther, type Parts } from './take-tokens.ts';

const NOTHING = {
  names: null,
  heading: null,
  fact: null,
  chords: [],
  bars: [],
  sung: [],
  words: [],
  times: 1,
  warnings: [],
} as const;

/** Where a line came from and how it was decided. */
export interface Source {
  readonly line: number;
  readonly text: string;
  readonly marks: LineMarks;
  /** What its chords are called. */
  readonly reading: NameReading;
}

function all(tokens: readonly Token[], as: ReadWord['as'], reason: string): ReadWord[] {
  return tokens.map(({ index, column, text }) => ({
    column: index + 1,
    seen: column,
    text,
    as,
    reason,
    doubtful: false,
    marked: false,
  }));
}

export function blankLine({ line, text }: Source): KnownLine {
  return {
    ...NOTHING,
    line,
    text,
    as: 'blank',
    reason: 'Nothing stands here.',
    doubtful: false,
    marked: false,
  };
}

export function leftOut(source: Source, reason: string, warned: boolean): KnownLine {
  const { line, text, marks } = source;
  const message = `Line ${line} is left out: ${reason}`;
  return {
    ...NOTHING,
    line,
    text,
    as: 'nothing',
    reason,
    doubtful: false,
    marked: marks.whole === 'nothing',
    words: all(wordsOf(text), 'nothing', reason),
    warnings: warned ? [{ code: 'info-left-out', message, line }] : [],
  };
}

export function headingLine(
  source: Source,
  of: {
    names: 'title' | 'section' | 'fact' | 'credit';
    heading?: Heading;
    fact?: Fact;
    reason: string;
    doubtful?: boolean;
  },
): KnownLine {
  const { line, text, marks } = source;
  return {
    ...NOTHING,
    line,
    text,
    as: 'heading',
    names: of.names,
    heading: of.heading ?? null,
    fact: of.fact ?? null,
    reason: of.reason,
    doubtful: of.doubtful === true && marks.whole === null,
    marked: marks.whole === 'heading',
    words: all(wordsOf(text), 'heading', of.reason),
    warnings:
      of.heading?.note === undefined
        ? []
        : [{ code: 'info-left-out', message: `Line ${line}: ${of.reason}`, line }],
  };
}

/** A line of the song, of what was taken out of it. */
function lineOf(
  as: 'chords' | 'words',
  source: Source,
  weighed: Weighed,
  decision: Decision,
  heading: Heading | null,
  parts: Parts,
): KnownLine {
  const { line, text, marks } = source;
  return {
    ...NOTHING,
    ...decision,
    line,
    text,
    as,
    doubtful: decision.doubtful && marks.whole === null,
    marked: marks.whole === as,
    heading,
    names: heading ? 'section' : null,
    ...parts,
    words: [...prefixWords(source, weighed, heading), ...parts.words],
  };
}

/** A line of chords, with the marks of its words worked in. */
export function chordsLine(
  source: Source,
  weighed: Weighed,
  decision: Decision,
  heading: Heading | null,
): KnownLine {
  const { line, marks } = source;
  const parts = none();
  for (const token of weighed.tokens) {
    const mark = marks.words.get(token.index + 1);
    if (mark === 'words') {
      parts.sung.push(token);
      parts.words.push(markedWord(token, 'words'));
    } else if (mark === 'nothing') parts.words.push(markedWord(token, 'nothing'));
    else if (mark === 'chords' || !['sign', 'times', 'other'].includes(token.as))
      takeChord(
        parts,
        mark ? { ...token, ...saidChord(token.text, source.reading) } : token,
        line,
        mark === 'chords',
      );
    else takeOther(parts, token, line);
  }
  return lineOf('chords', source, weighed, decision, heading, parts);
}

function markedWord({ text, index, column }: Token, as: 'words' | 'nothing'): ReadWord {
  return {
    column: index + 1,
    seen: column,
    text,
    as,
    reason: said(as),
    doubtful: false,
    marked: true,
  };
}

function prefixWords(source: Source, weighed: Weighed, heading: Heading | null): ReadWord[] {
  if (!heading) return [];
  const before = wordsOf(source.text).filter(
    ({ index }) => index < (weighed.tokens[0]?.index ?? Infinity),
  );
  return all(before, 'heading', `“${heading.name}” begins here.`);
}

/** A chord in brackets or a command in braces, as some programs write them among the words. */
const IN_BRACKETS = /\[[^\]\n]{0,40}\]|\{[^}\n]{0,80}\}/;

/** `des`, `fis`: in small letters a German note among words is a word. */
const SMALL_WORD = /^\p{Ll}{2,}$/u;

/** A line of words, with the marks of its words worked in. A chord that a person marks stands where it is typed. */
export function wordsLine(
  source: Source,
  weighed: Weighed,
  decision: Decision,
  heading: Heading | null,
): KnownLine {
  const { line, text, marks } = source;
  const parts = none();
  const from = weighed.tokens[0]?.index ?? 0;
  const tokens = wordsOf(text).filter(({ index, text: word }) => index + word.length > from);
  for (const [i, whole] of tokens.entries()) {
    const token = whole.index < from ? cut(whole, from) : whole;
    const mark = marks.words.get(token.index + 1);
    const times = i === tokens.length - 1 && i > 0 ? timesOf(token.text) : null;
    if (mark === 'chords')
      takeChord(parts, { ...token, ...saidChord(token.text, source.reading) }, line, true);
    else if (mark === 'nothing') parts.words.push(markedWord(token, 'nothing'));
    else if (mark === 'words' || times === null) {
      parts.sung.push(token);
      const looks = !SMALL_WORD.test(token.text) && judgeChord(token.text, source.reading).as === 'chord'; // prettier-ignore
      parts.words.push(
        mark === 'words'
          ? markedWord(token, 'words')
          : {
              column: token.index + 1,
              seen: token.column,
              text: token.text,
              as: 'words',
              reason: looks
                ? `${quoted(token.text)} looks like a chord, but stands in a line of words.`
                : 'It stands in a line of words.',
              doubtful: looks,
              marked: false,
            },
      );
    } else takeOther(parts, { ...token, as: 'times', chord: null, problems: [] }, line);
  }
  if (IN_BRACKETS.test(text)) {
    parts.warnings.push({
      code: 'brackets-are-words',
      message: `Line ${line} has something in brackets. Chords are read from a line of their own above the words, so what stands in brackets is taken for words.`,
      line,
      column: text.search(IN_BRACKETS) + 1,
    });
  }
  return lineOf('words', source, weighed, decision, heading, parts);
}

/** What is left of a word after a prefix that touches it: `1.Amazing`. */
function cut(token: Token, from: number): Token {
  const gone = from - token.index;
  return {
    text: token.text.slice(gone),
    index: from,
    column: token.column + gone,
    end: token.end,
  };
}
