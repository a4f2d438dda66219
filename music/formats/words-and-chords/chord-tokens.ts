import { read as readChord } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import type { Problem } from '../../result.ts';
import { inLetters, LETTERS, type NameReading } from './chord-names.ts';
import { signsOf, type Token } from './columns.ts';
import { timesOf } from './headings.ts';

/** What a sign would be on a line of chords. */
export interface ChordToken extends Token {
  /**
   * `chord`: nothing else; `either`: a chord that is a word too (A, Am, Go, Do); `sign`: a bar line, a repeat, a stroke for
   * a beat, a dash; `small`: a chord by a small letter, where its line holds nothing else; `times`: x2; `near`: meant for a chord, but none; `other`: no chord.
   */
  readonly as: 'chord' | 'either' | 'small' | 'sign' | 'times' | 'near' | 'other';
  /** null: no chord (N.C.). */
  readonly chord: Chord | null;
  readonly problems: readonly Problem[];
}

const SIGN = /^(?:\|:|:\|:?|\|\]|\|\|?|[/\\]+|[-–—_.…,:;*]+)$/;
/** Chord symbols that are words too, in English, and those that a mere o makes diminished: `Go`, `Do`. */
const EITHER = /^(?:A|Am|[A-G]o)$/;
/** German names that are words too. */
const EITHER_GERMAN = /^(?:A|Am|Es|As|Des|[A-G]o)$/;
/** A chord by a small letter, as people type it in haste: `g`, `em7`, `f#m`. */
const SMALL = /^[a-g][#♯b♭]?(?:m|maj|min|sus|dim|aug|add|\d|[()#♯b♭+-])*(?:\/[a-gA-G][#♯b♭]?)?$/;
/** Small letters that are words, or could well be: alone on a line they are sung. */
const SMALL_WORDS = /^(?:a|am|e|ad|add|be|dim|gm|fa)$/;
/** A root and then what only a chord has: a figure, an accidental, a slash; or the German H. */
const NEAR = /^(?:[A-G][#♯b♭]?[a-z]{0,3}[\d/#♯+°ø(][^\s]{0,12}|H(?:m|7|m7|is)?)$/;
const LONGEST = 24;
const NONE = { chord: null, problems: [] } as const;

type Judged = Pick<ChordToken, 'as' | 'chord' | 'problems'>;

const known = new Map<string, Judged>();

/** A name in other names than letters, or a small letter: as letters say it. */
function judgeNamed(text: string, reading: NameReading): Judged {
  const letters = inLetters(text, reading);
  if (letters === null) return { as: 'other', ...NONE };
  const read = readChord(letters);
  if (!read.ok) return { as: 'other', chord: null, problems: read.problems };
  const isWord = reading.names === 'German' && EITHER_GERMAN.test(text);
  return { as: isWord ? 'either' : 'chord', chord: read.value, problems: read.warnings };
}

function judgeSmall(text: string): Judged {
  const read = SMALL.test(text) ? readChord(text) : null;
  if (!read?.ok) return { as: 'other', ...NONE };
  return { as: 'small', chord: read.value, problems: read.warnings };
}

/** What takes no room and is not seen: zero width space, word joiner, byte order mark. */
const UNSEEN = /[\u200B\u2060\uFEFF]/g;

function judge(given: string, reading: NameReading): Judged {
  const text = given.replace(UNSEEN, '');
  if (SIGN.test(text)) return { as: 'sign', ...NONE };
  if (timesOf(text) !== null) return { as: 'times', ...NONE };
  const inside = /^\((.+)\)$/.exec(text)?.[1] ?? text;
  const isNone = /^n\.?c\.?$/i.test(inside) && inside !== 'nc';
  if (text.length > LONGEST) return { as: 'other', ...NONE };
  if (!isNone && reading.names !== 'letters') return judgeNamed(inside, reading);
  if (!isNone && /^[a-g]/.test(inside)) return judgeSmall(inside);
  if (!isNone && !/^[A-H]/.test(inside)) return { as: 'other', ...NONE };
  const read = readChord(inside);
  if (!read.ok) {
    const as = NEAR.test(inside) ? 'near' : 'other';
    return { as, chord: null, problems: read.problems };
  }
  const chord = read.value.kind === 'none' ? null : read.value;
  return { as: EITHER.test(text) ? 'either' : 'chord', chord, problems: read.warnings };
}

/** A text as a chord, read only by `ChordSymbol.read`; what was met before is remembered. */
export function judgeChord(text: string, reading: NameReading = LETTERS): Judged {
  const name = `${reading.names} ${reading.degrees.join('')} ${reading.isMinor === true} ${text}`;
  const before = known.get(name);
  if (before) return before;
  const judged = judge(text, reading);
  if (known.size < 2000) known.set(name, judged);
  return judged;
}

/** A word that a person says is a chord: whatever can be read, also `am`. */
export function saidChord(text: string, reading: NameReading = LETTERS): Judged {
  const judged = judgeChord(text, reading);
  if (judged.as === 'chord' || judged.as === 'either') return judged;
  const inside = /^\((.+)\)$/.exec(text)?.[1] ?? text;
  const read = readChord(inLetters(inside, reading) ?? inside);
  if (!read.ok) return { as: 'near', chord: null, problems: read.problems };
  const chord = read.value.kind === 'none' ? null : read.value;
  return { as: 'chord', chord, problems: read.warnings };
}

/** What letters alone do not have: an accidental, a figure, a quality. */
const UNMISTAKABLE = /^[a-g](?:[#♯♭\d]|b$|m\d|maj|min|sus|dim|aug|add)/;

/**
 * Whether small letters are chords here: nothing else stands on the line, and they stand apart as over words, or have
 * what only a chord has.
 */
function areChords(tokens: readonly ChordToken[]): boolean {
  const small = tokens.filter(({ as }) => as === 'small');
  if (small.length === 0 || tokens.some(({ as }) => as === 'other' || as === 'near')) return false;
  if (small.some(({ text }) => UNMISTAKABLE.test(text))) return true;
  const all = tokens.filter(({ as }) => as === 'small' || as === 'chord' || as === 'either');
  if (all.length === 1) return !SMALL_WORDS.test(small[0]?.text ?? '');
  return all.slice(1).every((token, i) => token.column - (all[i]?.end ?? 0) > 1);
}

/** A line as a line of chords. */
export function chordTokensOf(line: string, reading: NameReading = LETTERS): ChordToken[] {
  const tokens = signsOf(line).map((token) => ({ ...token, ...judgeChord(token.text, reading) }));
  const as = areChords(tokens) ? 'chord' : 'other';
  return tokens.map((token) => {
    if (token.as !== 'small') return token;
    return as === 'chord' ? { ...token, as } : { ...token, as, ...NONE };
  });
}
