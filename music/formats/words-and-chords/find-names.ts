import { sayKey, type Key } from '../../pitch/key.ts';
import type { Problem } from '../../result.ts';
import {
  degreesOf,
  keysBefore,
  LETTERS,
  saidNames,
  type ChordNames,
  type MinorFrom,
  type NameReading,
} from './chord-names.ts';
import { chordTokensOf } from './chord-tokens.ts';

/** What a person said of the names of the chords; it counts before what the text says. */
export interface AskedNames {
  readonly names?: ChordNames;
  readonly minorFrom?: MinorFrom;
}

export interface FoundNames {
  readonly of: (line: number) => NameReading;
  readonly warnings: readonly Problem[];
}

const NUMBERS: NameReading = { names: 'numbers', degrees: ['C', 'D', 'E', 'F', 'G', 'A', 'B'] };
const C_MAJOR: Key = { tonic: 'C', mode: 'major' };
/** So many lines that hold nothing else make a text one of those chord names. */
const ENOUGH = 2;

/** Lines on which everything is a chord in these names, two at least. */
function linesIn(lines: readonly string[], reading: NameReading): number[] {
  return lines.flatMap((line, i) => {
    const tokens = chordTokensOf(line, reading).filter(({ as }) => as !== 'sign' && as !== 'times');
    const all = tokens.every(({ as }) => as === 'chord' || as === 'either');
    return tokens.length >= 2 && all ? [i + 1] : [];
  });
}

const GERMAN: NameReading = { names: 'German', degrees: [] };
/** What only German letters have: H, and notes that end in -is or -es, As and Es. */
const GERMAN_ONLY = /^(?:[Hh](?:\d|m|$|\/)|[A-Ha-h](?:is|es)|[AE]s)(?!us)/;

/** Names that a text seems to use without saying so. A line that is German all through counts beside lines of letters. */
function seeming(lines: readonly string[]): { names: ChordNames; line: number } | null {
  const german = linesIn(lines, GERMAN).find((line) =>
    (lines[line - 1] ?? '').split(/[\s|]+/).some((token) => GERMAN_ONLY.test(token)),
  );
  if (german !== undefined) return { names: 'German', line: german };
  if (linesIn(lines, LETTERS).length > 0) return null;
  for (const names of ['numbers', 'solfège'] as const) {
    const found = linesIn(lines, names === 'numbers' ? NUMBERS : { names, degrees: [] });
    if (found.length >= ENOUGH) return { names, line: found[0] ?? 1 };
  }
  return null;
}

/** `1-` where the numbers themselves say so. */
function minorFromNumbers(lines: readonly string[]): MinorFrom {
  return lines.some((line) => /(?:^|\s|\|)1(?:-|m(?!aj))/.test(line)) ? '1-' : '6-';
}

function numbersIn(lines: readonly string[], from: MinorFrom | null): FoundNames {
  const keys = keysBefore(lines);
  const guessed = from ?? minorFromNumbers(lines);
  const warnings: Problem[] = [];
  const line = keys.findIndex((key) => key?.mode === 'minor');
  const minor = keys[line];
  if (minor && from === null) {
    const other = guessed === '6-' ? '1-' : '6-';
    const message = `Numbers in ${sayKey(minor)} are read so that ${guessed} is its tonic chord. If ${other} is meant, write “Chords: numbers from ${other}” over the song.`;
    warnings.push({ code: 'guess-minor-numbers', message, line: line + 1 });
  }
  if (keys.every((key) => key === null)) {
    const message =
      'The chords are numbers and no key is named, so they are read in C major. Write “Key: …” over the song.';
    warnings.push({ code: 'guess-number-key', message, line: 1 });
  }
  const first = keys.find((key) => key !== null) ?? C_MAJOR;
  const readings = keys.map((key) => ({
    names: 'numbers' as const,
    degrees: degreesOf(key ?? first, guessed),
    isMinor: (key ?? first).mode === 'minor' && guessed === '1-',
  }));
  return { of: (at) => readings[at - 1] ?? LETTERS, warnings };
}

const CALLED = { numbers: 'numbers', solfège: 'do, re, mi', German: 'German letters' } as const;

/**
 * What the chords of a text are called: as a person says, as the text says in a line of its own, or numbers where lines
 * hold nothing else. German letters and syllables are taken only where somebody says so, since many of them are words and
 * letters of other chords; where a text looks like it, that is told.
 */
export function findNames(lines: readonly string[], asked: AskedNames): FoundNames {
  const said = saidNames(lines);
  const names = asked.names ?? said.names;
  const from = asked.minorFrom ?? said.minorFrom;
  if (names === 'numbers') return numbersIn(lines, from);
  if (names !== null) {
    const reading: NameReading = { names, degrees: [] };
    return { of: () => reading, warnings: [] };
  }
  const seems = seeming(lines);
  if (seems === null || seems.names === 'letters') return { of: () => LETTERS, warnings: [] };
  const { line } = seems;
  if (seems.names === 'numbers') {
    const found = numbersIn(lines, from);
    const message = `From line ${line} on the chords look like numbers of the key, and are read so.`;
    return { ...found, warnings: [{ code: 'guess-names', message, line }, ...found.warnings] };
  }
  const word = seems.names === 'German' ? 'German' : 'solfège';
  const message = `Line ${line} looks like chords in ${CALLED[seems.names]}. If it is, write “Chords: ${word}” over the song.`;
  return { of: () => LETTERS, warnings: [{ code: 'perhaps-names', message, line }] };
}
