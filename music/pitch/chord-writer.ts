import { canonical, TONES } from './chord-degrees.ts';
import type { Chord, ChordDegree, ChordKind } from './chord.ts';

/** What stands after the root. Short, and plain to somebody who learned last year: `dim` rather than a circle. */
export const SUFFIX: Readonly<Record<Exclude<ChordKind, 'none'>, string>> = {
  major: '',
  minor: 'm',
  augmented: 'aug',
  diminished: 'dim',
  dominant: '7',
  'major-seventh': 'maj7',
  'minor-seventh': 'm7',
  'diminished-seventh': 'dim7',
  'augmented-seventh': 'aug7',
  'half-diminished': 'm7b5',
  'major-minor': 'm(maj7)',
  'major-sixth': '6',
  'minor-sixth': 'm6',
  'dominant-ninth': '9',
  'major-ninth': 'maj9',
  'minor-ninth': 'm9',
  'dominant-11th': '11',
  'major-11th': 'maj11',
  'minor-11th': 'm11',
  'dominant-13th': '13',
  'major-13th': 'maj13',
  'minor-13th': 'm13',
  'suspended-second': 'sus2',
  'suspended-fourth': 'sus4',
  Neapolitan: '(Neapolitan)',
  Italian: '(Italian)',
  French: '(French)',
  German: '(German)',
  pedal: '(pedal)',
  power: '5',
  Tristan: '(Tristan)',
  other: '(other)',
};

const signs = (alter: number): string => (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
/** Degrees whose alteration is written without a word: `b5`, `#9`. */
export const ALTERABLE: readonly number[] = [2, 4, 5, 6, 9, 11, 13];

/** A seventh is written against the major one when it has a sign: `bb7` is the diminished seventh. */
function added(value: number, alter: number): string {
  if (value !== 7) return `add${signs(alter)}${value}`;
  if (alter === 0) return 'add7';
  return alter === 1 ? 'addmaj7' : `add${signs(alter - 1)}7`;
}

function words(kind: ChordKind, degrees: readonly ChordDegree[]): string[] {
  return degrees.flatMap(({ type, value, alter }) => {
    const base = TONES[kind].find((tone) => tone[0] === value);
    if (type === 'subtract') return [`no${value}`];
    if (type === 'add') {
      // After a natural one of the same degree a bare sign would take its place.
      const natural = degrees.some((each) => each.value === value && each.alter === 0);
      const bare = alter !== 0 && !base && !natural && ALTERABLE.includes(value);
      return [bare ? `${signs(alter)}${value}` : added(value, alter)];
    }
    const absolute = (base?.[1] ?? 0) + alter;
    if (absolute !== 0 && ALTERABLE.includes(value)) return [`${signs(absolute)}${value}`];
    return [`no${value}`, added(value, absolute)];
  });
}

/** Degrees that are said before `sus4` or after a sixth, as everybody writes them: `7sus4`, `69`. */
const SUS_NUMBERS: readonly (readonly [
  word: string,
  needs: readonly (readonly [number, number])[],
])[] = [
  [
    '13',
    [
      [7, 0],
      [9, 0],
      [13, 0],
    ],
  ],
  [
    '9',
    [
      [7, 0],
      [9, 0],
    ],
  ],
  ['7', [[7, 0]]],
  [
    'maj9',
    [
      [7, 1],
      [9, 0],
    ],
  ],
  ['maj7', [[7, 1]]],
];

function spoken(chord: Chord): { suffix: string; rest: readonly ChordDegree[] } {
  const { kind, degrees } = chord;
  if (kind === 'none') return { suffix: '', rest: [] };
  const without = (taken: readonly (readonly [number, number])[]): ChordDegree[] | null => {
    const isTaken = (degree: ChordDegree): boolean =>
      degree.type === 'add' && taken.some(([v, a]) => v === degree.value && a === degree.alter);
    const rest = degrees.filter((degree) => !isTaken(degree));
    return degrees.length - rest.length === taken.length ? rest : null;
  };
  if (kind === 'suspended-fourth' || kind === 'suspended-second') {
    for (const [word, needs] of SUS_NUMBERS) {
      const rest = without(needs);
      if (rest) return { suffix: word + SUFFIX[kind], rest };
    }
  }
  if (kind === 'major-sixth' || kind === 'minor-sixth') {
    const rest = without([[9, 0]]);
    if (rest) return { suffix: `${SUFFIX[kind]}9`, rest };
  }
  return { suffix: SUFFIX[kind], rest: degrees };
}

/** The parts of a written symbol: root, what follows it, bass. */
export function parts(chord: Chord): { root: string; body: string; bass: string } {
  const plain = canonical(chord);
  if (plain.kind === 'none') return { root: 'N.C.', body: '', bass: '' };
  const { suffix, rest } = spoken(plain);
  const list = words(plain.kind, rest);
  const bare = suffix === '' && list.length === 1 && /^add\d/.test(list[0] ?? '');
  const degrees = list.length === 0 || bare ? list.join('') : `(${list.join(',')})`;
  return { root: plain.root, body: suffix + degrees, bass: plain.bass ?? '' };
}
