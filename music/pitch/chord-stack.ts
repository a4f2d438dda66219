import type { Tone } from './chord-degrees.ts';
import type { ChordText } from './chord-text.ts';

/** What the word or sign after the root says. */
export interface Quality {
  readonly said: Said;
  readonly third: number;
  readonly fifth: number;
  readonly seventh: number;
  /** Whether it means a seventh where no number follows: a triangle, a crossed circle. */
  readonly impliesSeventh: boolean;
}
type Said =
  'nothing' | 'major' | 'minor' | 'diminished' | 'half-diminished' | 'augmented' | 'dominant';

function quality(said: Said, impliesSeventh = false): Quality {
  const diminished = said.endsWith('diminished');
  return {
    said,
    third: said === 'minor' || diminished ? -1 : 0,
    fifth: said === 'augmented' ? 1 : diminished ? -1 : 0,
    seventh: said === 'major' ? 1 : said === 'diminished' ? -1 : 0,
    impliesSeventh,
  };
}

/** In the order they are tried; single letters mind their case, words do not. */
const QUALITIES: readonly (readonly [RegExp, Quality])[] = [
  [/^(?:half-?dim(?:inished)?|hdim|[øØ])/i, quality('half-diminished', true)],
  [/^(?:diminished|dim|[°º˚]|o(?![a-z]))/i, quality('diminished')],
  [/^(?:augmented|aug|\+)/i, quality('augmented')],
  [/^(?:dominant|dom)/i, quality('dominant', true)],
  [/^(?:major|maj|ma(?!dd))/i, quality('major')],
  [/^[Δ△∆]/, quality('major', true)],
  [/^(?:minor|min|mi)/i, quality('minor')],
  [/^M/, quality('major')],
  [/^[m-]/, quality('minor')],
];

export function takeQuality(symbol: ChordText): Quality {
  symbol.take(/^ +/);
  const start = symbol.at;
  for (const [pattern, found] of QUALITIES) {
    const match = symbol.take(pattern);
    if (!match) continue;
    if (match[0] === '-' && symbol.rest().startsWith('5')) {
      const message = '“-5” may be a flat fifth or a minor chord: write (b5) or m.';
      symbol.refuse('chord-quality', message, start);
    }
    return found;
  }
  return quality('nothing');
}

/** The number that says how high thirds are stacked; empty where there is none. */
export function takeNumber(symbol: ChordText, said: Quality): string {
  const match = symbol.take(/^ *(13|11|9|7|6\/9|69|6|5|4|2)(?!\d)/);
  if (match) return match[1] === '6/9' ? '69' : (match[1] ?? '');
  const unknown = /^ *(\d+)/.exec(symbol.rest());
  if (unknown) symbol.refuse('chord-number', `No chord is called by the number ${unknown[1]}.`);
  return said.impliesSeventh ? '7' : '';
}

/** The tones that quality and number make; `from` is where the root is written. */
export function stack(symbol: ChordText, said: Quality, number: string, from: number): Tone[] {
  const third: Tone = [3, said.third];
  const triad: readonly Tone[] = [[1, 0], third, [5, said.fifth]];
  const without = triad.filter((tone) => tone !== third);
  const written = `“${symbol.written(from)}”`;
  const contradiction = (why: string): never =>
    symbol.refuse('chord-contradiction', `${written} ${why}`, from);
  switch (number) {
    case '':
      return [...triad];
    case '2':
      return [...triad, [2, 0]];
    case '4':
      if (said.said !== 'nothing') return [...triad, [4, 0]];
      symbol.warn('chord-four', `${written} is read as sus4; add4 would keep the third.`, from);
      return [...without, [4, 0]];
    case '5':
      if (said.said === 'augmented') return [...triad];
      if (said.said === 'nothing') return without;
      return contradiction('says a third, and 5 says that there is none.');
    case '6':
    case '69': {
      if (said.fifth !== 0)
        contradiction('has no usual meaning: 6 stands on a major or minor chord.');
      const sixth: Tone[] = [...triad, [6, 0]];
      return number === '69' ? [...sixth, [9, 0]] : sixth;
    }
    default: {
      const above = [9, 11, 13].filter((value) => value <= Number(number));
      return [...triad, [7, said.seventh], ...above.map((value): Tone => [value, 0])];
    }
  }
}
