import { listed } from '../../score/number-words.ts';
import type { NameReading } from './chord-names.ts';
import { chordTokensOf, type ChordToken } from './chord-tokens.ts';

/** Whether a line holds chords, and why. */
export interface Decision {
  readonly as: 'chords' | 'words' | 'nothing';
  /** One sentence. */
  readonly reason: string;
  /** It could as well be the other. */
  readonly doubtful: boolean;
}

/** A line from its prefix on, weighed once. */
export interface Weighed {
  readonly tokens: readonly ChordToken[];
  readonly chords: readonly ChordToken[];
  readonly either: readonly ChordToken[];
  readonly near: readonly ChordToken[];
  readonly others: readonly ChordToken[];
  /** Share of the gaps between tokens that are two columns wide or more, 0–1. */
  readonly wide: number;
}

export function weigh(line: string, reading: NameReading): Weighed {
  const tokens = chordTokensOf(line, reading);
  const of = (as: ChordToken['as']): ChordToken[] => tokens.filter((token) => token.as === as);
  const gaps = tokens.slice(1).map((token, i) => token.column - (tokens[i]?.end ?? 0));
  const wide = gaps.length === 0 ? 0 : gaps.filter((gap) => gap > 1).length / gaps.length;
  return {
    tokens,
    chords: of('chord'),
    either: of('either'),
    near: of('near'),
    others: of('other'),
    wide,
  };
}

/** Of the signs on a line of chords at least this share are chords, whatever the spacing. */
const MOST_OF_IT = 3 / 4;
/** … and this share where the chords stand apart, as over words. */
const HALF_OF_IT = 1 / 2;

const sayCount = (signs: number): string => `${signs} ${signs === 1 ? 'sign' : 'signs'}`;

const quoted = (tokens: readonly ChordToken[]): string =>
  listed([...new Set(tokens.map(({ text }) => `“${text.slice(0, 20)}”`))].slice(0, 3));

/**
 * The rule: a line holds chords where every sign on it is a chord symbol (or a bar line, a repeat, a stroke for a beat);
 * where three quarters are, and at least two; or where half are, at least two, and they stand wide apart, as they do over
 * words. What is a word too (A, Am, Go, Do) counts as a chord beside a chord that is none; alone, “A” and “Am” are
 * chords and “Go” and “Do” are words, both in doubt. Right under a line of chords words are expected: there they are in
 * doubt only where half of them could be chords.
 * @param below whether words stand right under the line
 * @param over whether chords stand right over the line
 */
export function decide(
  { chords, either, near, others, wide }: Weighed,
  below: boolean,
  over = false,
): Decision {
  const sure = chords.length;
  const all = sure + either.length + near.length;
  if (all + others.length === 0) {
    return {
      as: 'nothing',
      reason: 'Only lines, dashes and dots stand here, no word and no chord.',
      doubtful: false,
    };
  }
  const share = all / (all + others.length);
  if (all === 0) {
    return { as: 'words', reason: 'No word of this line is a chord symbol.', doubtful: false };
  }
  const of = `${all} of ${sayCount(all + others.length)} on this line`;
  const verb =
    near.length > 0
      ? 'are meant for chords'
      : all === 1
        ? 'is a chord symbol'
        : 'are chord symbols';
  if (others.length === 0) {
    if (sure + near.length > 0) {
      const isHalf = sure === 0;
      const reason = isHalf
        ? `${quoted(near)} ${near.length === 1 ? 'is' : 'are'} meant for ${near.length === 1 ? 'a chord' : 'chords'}, but cannot be read.`
        : `Everything on this line is a chord symbol.`;
      return { as: 'chords', reason, doubtful: isHalf };
    }
    const isRoot = either.every(({ text }) => /^(A|Am|As|Des|Es)$/.test(text));
    if (!isRoot && !(either.length > 1 && wide === 1)) {
      const reason = `${quoted(either)} ${either.length === 1 ? 'is a word' : 'are words'} as well as ${either.length === 1 ? 'a chord symbol' : 'chord symbols'}, and no other chord stands beside ${either.length === 1 ? 'it' : 'them'}.`;
      return { as: 'words', reason, doubtful: true };
    }
    const place = below ? 'alone over a line of words' : 'with no other word';
    const reason = `${quoted(either)} can be a word too, but ${either.length === 1 ? 'stands' : 'stand'} here ${place}.`;
    return { as: 'chords', reason, doubtful: !below };
  }
  if (sure >= 2 && share >= MOST_OF_IT) {
    return {
      as: 'chords',
      reason: `${of} ${verb}; ${quoted(others)} ${others.length === 1 ? 'is' : 'are'} not.`,
      doubtful: true,
    };
  }
  if (sure >= 2 && share >= HALF_OF_IT && wide >= HALF_OF_IT) {
    return {
      as: 'chords',
      reason: `${of} ${verb}, and they stand wide apart; ${quoted(others)} ${others.length === 1 ? 'is' : 'are'} not.`,
      doubtful: true,
    };
  }
  return {
    as: 'words',
    reason: `Only ${of} could be ${all === 1 ? 'a chord' : 'chords'}: ${quoted(others)} ${others.length === 1 ? 'is' : 'are'} not.`,
    doubtful: sure > 0 && !(over && share < HALF_OF_IT),
  };
}
