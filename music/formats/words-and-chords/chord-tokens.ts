import { read as readChord } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import type { Problem } from '../../result.ts';
import { signsOf, type Token } from './columns.ts';
import { timesOf } from './headings.ts';

/** What a sign would be on a line of chords. */
export interface ChordToken extends Token {
  /**
   * `chord`: nothing else; `either`: a chord that is a word too (A, Am, Go, Do); `sign`: a bar line, a repeat, a stroke for
   * a beat, a dash; `times`: x2; `near`: meant for a chord, but none; `other`: no chord.
   */
  readonly as: 'chord' | 'either' | 'sign' | 'times' | 'near' | 'other';
  /** null: no chord (N.C.). */
  readonly chord: Chord | null;
  readonly problems: readonly Problem[];
}

const SIGN = /^(?:\|:|:\|:?|\|\]|\|\|?|[/\\]+|[-–—_.…,:;*]+)$/;
/** Chord symbols that are words too, in English, and those that a mere o makes diminished: `Go`, `Do`. */
const EITHER = /^(?:A|Am|[A-G]o)$/;
/** A root and then what only a chord has: a figure, an accidental, a slash; or the German H. */
const NEAR = /^(?:[A-G][#♯b♭]?[a-z]{0,3}[\d/#♯+°ø(][^\s]{0,12}|H(?:m|7|m7|is)?)$/;
const LONGEST = 24;
const NONE = { chord: null, problems: [] } as const;

const known = new Map<string, Pick<ChordToken, 'as' | 'chord' | 'problems'>>();

function judge(text: string): Pick<ChordToken, 'as' | 'chord' | 'problems'> {
  if (SIGN.test(text)) return { as: 'sign', ...NONE };
  if (timesOf(text) !== null) return { as: 'times', ...NONE };
  const inside = /^\((.+)\)$/.exec(text)?.[1] ?? text;
  const isNone = /^n\.?c\.?$/i.test(inside) && inside !== 'nc';
  if (text.length > LONGEST || (!isNone && !/^[A-H]/.test(inside))) return { as: 'other', ...NONE };
  const read = readChord(inside);
  if (!read.ok) {
    const as = NEAR.test(inside) ? 'near' : 'other';
    return { as, chord: null, problems: read.problems };
  }
  const chord = read.value.kind === 'none' ? null : read.value;
  return { as: EITHER.test(text) ? 'either' : 'chord', chord, problems: read.warnings };
}

/** A text as a chord, read only by `ChordSymbol.read`; what was met before is remembered. */
export function judgeChord(text: string): Pick<ChordToken, 'as' | 'chord' | 'problems'> {
  const before = known.get(text);
  if (before) return before;
  const judged = judge(text);
  if (known.size < 2000) known.set(text, judged);
  return judged;
}

/** A word that a person says is a chord: whatever `ChordSymbol.read` understands, also `am`. */
export function saidChord(text: string): Pick<ChordToken, 'as' | 'chord' | 'problems'> {
  const judged = judgeChord(text);
  if (judged.as === 'chord' || judged.as === 'either') return judged;
  const read = readChord(/^\((.+)\)$/.exec(text)?.[1] ?? text);
  if (!read.ok) return { as: 'near', chord: null, problems: read.problems };
  const chord = read.value.kind === 'none' ? null : read.value;
  return { as: 'chord', chord, problems: read.warnings };
}

/** A line as a line of chords. */
export function chordTokensOf(line: string): ChordToken[] {
  return signsOf(line).map((token) => ({ ...token, ...judgeChord(token.text) }));
}
