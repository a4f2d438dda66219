import { failure, success, type Problem, type Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { assemble } from './abc/assemble.ts';
import { decode, withoutMark } from './bytes.ts';
import { linesOf, splitTunes } from './abc/lines.ts';
import { newReport, quoted } from './report.ts';
import { readTune } from './abc/tune.ts';
import { writeTune } from './abc/write.ts';

export { decode };

/** Characters; a hymn has six thousand, a book of a hundred and fifty hymns a million. */
export const MOST_CHARACTERS = 1_000_000;

/**
 * The songs of an ABC 2.1 file. Bytes are UTF-8, or Latin-1 where they are not (that is a warning). A song comes whole
 * or not at all: what cannot be read for certain is a problem, and a file of one song then fails with all problems
 * found; in a book the readable songs come, and the others are told as warnings.
 *
 * Warnings whose code begins with `info-` tell what holds no music and is not kept, those with `guess-` what was
 * concluded and may be corrected; all others are reservations about the text. Every problem and warning has its line.
 */
export function read(input: string | Uint8Array): Result<Score[]> {
  const warnings: Problem[] = [];
  if (input.length > MOST_CHARACTERS) {
    const message = `This file has ${String(input.length)} characters; ${String(MOST_CHARACTERS)} are the most that are read at once.`;
    return failure({ code: 'file-too-large', message, line: 1 });
  }
  const { text, latin1Line } =
    typeof input === 'string' ? { text: withoutMark(input), latin1Line: null } : decode(input);
  if (latin1Line !== null) {
    const message = 'This line has a character that is not UTF-8; the file is read as Latin-1.';
    warnings.push({ code: 'info-latin-1', message, line: latin1Line });
  }
  const { tunes, outside } = splitTunes(linesOf(text));
  if (tunes.length === 0) {
    const message = 'There is no ABC tune here: no line begins with X:, T: or K:.';
    return failure({ code: 'no-tune', message, line: outside[0]?.number ?? 1 });
  }
  for (const line of outside) {
    const shown = line.kind === 'music' ? quoted(line.text) : '';
    const message = `The text ${shown} stands before any tune and is left out.`;
    warnings.push({ code: 'text-outside', message, line: line.number });
  }
  const scores: Score[] = [];
  const problems: Problem[] = [];
  for (const tune of tunes) {
    const first = tune.lines[0];
    if (first?.kind === 'field' && first.letter !== 'X') {
      const message = 'The tune has no X: line before it; it is read from here.';
      warnings.push({ code: 'number-missing', message, line: first.number });
    }
    const report = newReport();
    const parts = readTune(tune, report);
    const score = parts && report.problems.length === 0 ? assemble(parts, report) : null;
    if (score && report.problems.length === 0) {
      scores.push(score);
      warnings.push(...report.warnings);
    } else problems.push(...report.problems, ...report.warnings.filter(isReservation));
  }
  if (scores.length === 0) return { ok: false, problems };
  return success(scores, [...warnings, ...problems]);
}

/** Whether a warning is about something wrong, not about what was left out or concluded. */
function isReservation({ code }: Problem): boolean {
  return !/^(info|guess)-/.test(code);
}

/**
 * A score as an ABC 2.1 tune (UTF-8, LF). `read` gives the same score back, but for what ABC cannot hold:
 *
 * - a chord found in the voices comes back as one that a person wrote (`ChordAt.guess`), and a chord lasts until the next;
 * - a key that a person decided on comes back as one that the source names (`KeyAt.reason`, `others`);
 * - bars are numbered anew (a short first bar is 0); a repeat's end always has the final line; an ending goes on until
 *   the next one, a repeat, or a double or final line;
 * - ids of sections are made from their names, and their kinds are told by their names (`Refrain`, `Chorus`, `Bridge` …);
 * - voices on one staff stand together, staves are numbered from 1 without gaps, ids of voices have no spaces or brackets;
 * - verses that are sung under the notes come before those printed below; numbers follow the labels (`6.`);
 * - how a vamp is left (`Section.loop`), the compass, pedal, soft notes and what stands above a note in rubric;
 * - a beam joins two notes shorter than a quarter inside a bar; a slur begins on a note; ties lead to a note of the same
 *   pitch; a note over a bar line is written as two that are tied;
 * - a tempo that changes nothing, and where the first one is said at the end of a pickup (it holds from the start); spaces at the beginning and end of a text; signs that are not names (`trill`) or annotations (`"^…"`).
 */
export function write(score: Score): string {
  return writeTune(score);
}
