import { failure, success, type Result } from '../result.ts';
import { ChordChanges } from './chord-changes.ts';
import { canonical, inOrder, kindOf, NAMED, TONES, withTones, type Tone } from './chord-degrees.ts';
import { stack, takeNumber, takeQuality } from './chord-stack.ts';
import { ChordText, Refusal } from './chord-text.ts';
import type { Chord, ChordKind } from './chord.ts';
import type { NoteName } from './pitch.ts';

/** No chord symbol is longer; anything that is gets refused before it is looked at. */
const LONGEST = 60;

/**
 * The chord of a symbol as musicians write it: `Am7/G`, `F♯m7♭5`, `Csus`, `B♭6/9`, `N.C.` It comes in the one
 * form of `canonical`. What it doubts it says in a warning; what it does not understand it refuses with a code, a
 * sentence and the column.
 *
 * Codes: chord-empty, chord-too-long, chord-root, chord-german-h, chord-quality, chord-degree, chord-number,
 * chord-contradiction, chord-parenthesis, chord-bass. Warnings: chord-lower-case, chord-four, chord-altered,
 * chord-minor-suspended.
 */
export function read(text: string): Result<Chord> {
  const symbol = new ChordText(text);
  try {
    return success(chordOf(symbol), symbol.warnings);
  } catch (problem) {
    if (problem instanceof Refusal) return failure(problem.problem);
    throw problem;
  }
}

function chordOf(symbol: ChordText): Chord {
  if (symbol.at >= symbol.end) symbol.refuse('chord-empty', 'There is no chord here.', 0);
  if (symbol.end - symbol.at > LONGEST) {
    symbol.refuse('chord-too-long', `A chord symbol has at most ${LONGEST} signs.`);
  }
  if (/^(?:n\.? ?c\.?|no chord)$/i.test(symbol.rest())) {
    return canonical({ root: 'C', kind: 'none', degrees: [], bass: null });
  }
  const from = symbol.at;
  const whole = symbol.rest();
  const root = takeNote(symbol, 'root');
  const bass = takeBass(symbol);
  const named = takeName(symbol);
  if (named) {
    const tones = new ChordChanges(symbol, null, '', TONES[named]).read();
    return canonical({ root, ...withTones(named, inOrder(tones)), bass });
  }
  const said = takeQuality(symbol);
  const number = takeNumber(symbol, said);
  const base: readonly Tone[] = stack(symbol, said, number, from);
  const tones = new ChordChanges(symbol, said, number, base).read();
  if (said.third === 0 && /^[a-g]/.test(whole)) {
    const message = `“${whole}” is read with a major ${root}; a small letter may mean ${root}m.`;
    symbol.warn('chord-lower-case', message, from);
  }
  return canonical({ root, ...kindOf(tones), bass });
}

function takeNote(symbol: ChordText, place: 'root' | 'bass'): NoteName {
  const match = symbol.take(/^([A-Ga-g])(##|bb|#|b|)(?!#)/);
  if (match) return (match[1] ?? '').toUpperCase() + (match[2] ?? '');
  const sign = [...symbol.rest()][0] ?? '';
  const code = place === 'root' ? 'chord-root' : 'chord-bass';
  if (/^h(?:[^a-z]|m|dim|aug|sus|maj|min|$)/i.test(symbol.rest())) {
    const message = 'H is a German name: write B for it (and Bb for the German B).';
    symbol.refuse('chord-german-h', message);
  }
  if (/^[A-G]/i.test(sign)) symbol.refuse(code, `“${sign}” has more sharps than are written.`);
  const what = place === 'root' ? 'A chord begins with' : 'After the slash stands';
  return symbol.refuse(code, `${what} a letter from A to G, not “${sign}”.`);
}

/** The note after the last slash, unless a number stands there (6/9). It is cut off what is left to read. */
function takeBass(symbol: ChordText): NoteName | null {
  const match = /\s*\/\s*([^/\d][^/]*)?$/.exec(symbol.rest());
  if (!match) return null;
  const { at, end } = symbol;
  const bodyEnd = at + match.index;
  symbol.at = end - (match[1] ?? '').length;
  if (symbol.at >= end) {
    symbol.refuse('chord-bass', 'After the slash stands the bass note.', end - 1);
  }
  const start = symbol.at;
  const bass = takeNote(symbol, 'bass');
  if (symbol.at < end) {
    const message = `After the slash stands one note, not “${symbol.written(start, end)}”.`;
    symbol.refuse('chord-bass', message, start);
  }
  symbol.at = at;
  symbol.end = bodyEnd;
  return bass;
}

/** Words for the kinds that no sign stands for: `(Neapolitan)`, `(pedal)`. */
const NAMES: ReadonlyMap<string, ChordKind> = new Map(
  NAMED.filter((kind) => kind !== 'none').map((kind) => [kind.toLowerCase(), kind]),
);

function takeName(symbol: ChordText): ChordKind | null {
  const match = /^\s*\(?\s*([a-z]+)\s*\)?/i.exec(symbol.rest());
  const kind = NAMES.get((match?.[1] ?? '').toLowerCase());
  if (!match || !kind) return null;
  symbol.at += match[0].length;
  return kind;
}
