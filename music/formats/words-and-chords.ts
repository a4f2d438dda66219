import { failure, success, type Problem, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { assemble } from './words-and-chords/assemble.ts';
import { findNames, type AskedNames } from './words-and-chords/find-names.ts';
import { gatherFacts } from './words-and-chords/gather-facts.ts';
import type { KnownLine, ReadLine } from './words-and-chords/line.ts';
import type { TextMark } from './words-and-chords/mark.ts';
import { inOneColumn } from './words-and-chords/one-column.ts';
import { sectionsIn } from './words-and-chords/song.ts';
import { takeLines } from './words-and-chords/take-lines.ts';
import { writeSong } from './words-and-chords/write.ts';

export type { ChordNames, MinorFrom } from './words-and-chords/chord-names.ts';
export type { ReadLine, ReadWord } from './words-and-chords/line.ts';
export type { TextMark, TextReading } from './words-and-chords/mark.ts';

/** A song has some two thousand characters and fifty lines; more than these is no song. */
export const LIMITS = { characters: 60_000, lines: 1_000, lineLength: 500 } as const;

export interface WordsAndChordsOptions extends AskedNames {
  /** What a person said a line or a word is; it counts before every rule. */
  readonly marks?: readonly TextMark[];
}

/** Lines of a text, whatever ends them; a byte order mark is dropped. */
function linesIn(text: string): string[] {
  return text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
}

/** Characters that nobody sees become spaces, so that columns stay as they were. */
// eslint-disable-next-line no-control-regex
const UNSEEN = /[\0-\x08\x0B-\x1F\x7F\uFFFD\uD800-\uDFFF]/gu;

function tooMuch(text: string, lines: readonly string[]): Problem[] {
  if (text.length > LIMITS.characters) {
    const message = `This text has ${text.length} characters; ${LIMITS.characters} are the most that are read at once.`;
    return [{ code: 'text-too-long', message, line: 1 }];
  }
  if (lines.length > LIMITS.lines) {
    const message = `This text has ${lines.length} lines; ${LIMITS.lines} are the most that are read at once.`;
    return [{ code: 'text-too-long', message, line: LIMITS.lines + 1 }];
  }
  return lines.flatMap((line, i) => {
    if (line.length <= LIMITS.lineLength) return [];
    const message = `This line has ${line.length} characters; ${LIMITS.lineLength} are the most. Perhaps line ends got lost.`;
    return [{ code: 'line-too-long', message, line: i + 1 }];
  });
}

/**
 * The song of a text as people type it: chords on a line above the words (columns decide the syllable; tabs lead to
 * multiples of eight), headings on their own line, title and facts (`Key: G`) over all. `untimed`: its places are an
 * order and no length. A word drawn apart for its chords (`re-   lieved`) is one word. A heading alone repeats the section of that name. Small letters that fill a line are chords;
 * `Chords: German`, `solfège` or `numbers` over the song says what they are called (see `findNames`), and a text in two
 * columns is read as one.
 *
 * Every problem and warning has its line. Warnings: `info-` and `guess-` as in `Abc.read`; all others are reservations.
 * Problems: nothing-here, text-too-long, line-too-long, too-many-sections.
 */
export function read(text: string, options: WordsAndChordsOptions = {}): Result<Score> {
  const given = linesIn(text);
  const limits = tooMuch(text, given);
  if (limits.length > 0) return { ok: false, problems: limits.slice(0, MOST_SAID) };
  const columns = inOneColumn(given);
  const lines = columns?.lines ?? given;
  const warnings: Problem[] = [];
  const warn = (problem: Problem): void => {
    if (warnings.length < MOST_SAID) warnings.push(problem);
  };
  for (const [i, line] of lines.entries()) {
    const column = line.search(UNSEEN) + 1;
    if (column === 0) continue;
    const message = `Line ${i + 1} has characters that nobody can see; they count as spaces.`;
    warn({ code: 'unseen-characters', message, line: i + 1, column });
  }
  if (columns) {
    const { after } = columns;
    const also = after === null ? '' : ` “${after}” stands below both, so it comes after each verse.`; // prettier-ignore
    const message = `The text stands in two columns; the second is read after the first, and lines are counted so.${also}`;
    warn({ code: 'guess-two-columns', message, line: 1 });
  }
  const { known, warnings: named } = knownLines(lines, options);
  for (const problem of named) warn(problem);
  for (const line of known) for (const problem of line.warnings) warn(problem);
  const facts = gatherFacts(known, warn);
  const score = assemble(facts, sectionsIn(known), warn);
  if ('code' in score) return failure(score);
  return success(
    score,
    warnings.toSorted((a, b) => (a.line ?? 0) - (b.line ?? 0)),
  );
}

/** A text that is broken everywhere is not listed without end. */
const MOST_SAID = 200;

function knownLines(
  lines: readonly string[],
  { marks = [], ...asked }: WordsAndChordsOptions,
): { readonly known: KnownLine[]; readonly warnings: readonly Problem[] } {
  const seen = lines.map((line) => line.replace(UNSEEN, ' '));
  const names = findNames(seen, asked);
  return { known: takeLines(seen, marks, names.of), warnings: names.warnings };
}

/**
 * Every line of a text with what it was taken for, and each of its words, with reasons; the doubtful ones say so. A text
 * beyond the limits has none.
 */
export function lines(text: string, options: WordsAndChordsOptions = {}): readonly ReadLine[] {
  const all = linesIn(text);
  return tooMuch(text, all).length > 0
    ? []
    : knownLines(inOneColumn(all)?.lines ?? all, options).known;
}

/**
 * A song as such a text; `read` gives it back with its words, its chords over the same letters, its sections and its
 * order, a section that comes again by its name alone. What text cannot hold: notes, meter and bars (a timed song comes
 * back untimed), where syllables part inside a word unless a chord falls there, who guessed a chord; repeats and endings
 * are written out; underscores in words; a line of words that reads as something else, such as “A” alone; how a vamp is
 * left; the compass; a key that is not certain (it is found anew).
 */
export function write(score: Score): string {
  return writeSong(score);
}
