import { CHORD_KINDS, type Chord, type ChordDegree, type ChordKind } from './chord.ts';
import type { Interval } from './interval.ts';

/**
 * A tone of a chord: its degree above the root (1–13) and semitones against the major or perfect degree, where a
 * seventh counts from the minor one (as MusicXML counts an added degree): a minor third is `[3, -1]`.
 */
export type Tone = readonly [value: number, alter: number];

const TRIAD = { major: [1, 0, 3, 0, 5, 0], minor: [1, 0, 3, -1, 5, 0] } as const;
const flat = (...numbers: readonly number[]): readonly Tone[] =>
  numbers.flatMap((value, i) => (i % 2 === 0 ? [[value, numbers[i + 1] ?? 0] as const] : []));

/**
 * The tones of each kind. Triads to suspended, and power: the definitions in the W3C schema musicxml.xsd 4.0
 * (`kind-value`). The schema leaves the functional sixths, pedal and Tristan undefined; here the root is the lowest
 * note that is written, with the usual intervals above it (common practice): an augmented sixth is a sharpened sixth.
 */
export const TONES: Readonly<Record<ChordKind, readonly Tone[]>> = {
  major: flat(...TRIAD.major),
  minor: flat(...TRIAD.minor),
  augmented: flat(1, 0, 3, 0, 5, 1),
  diminished: flat(1, 0, 3, -1, 5, -1),
  dominant: flat(...TRIAD.major, 7, 0),
  'major-seventh': flat(...TRIAD.major, 7, 1),
  'minor-seventh': flat(...TRIAD.minor, 7, 0),
  'diminished-seventh': flat(1, 0, 3, -1, 5, -1, 7, -1),
  'augmented-seventh': flat(1, 0, 3, 0, 5, 1, 7, 0),
  'half-diminished': flat(1, 0, 3, -1, 5, -1, 7, 0),
  'major-minor': flat(...TRIAD.minor, 7, 1),
  'major-sixth': flat(...TRIAD.major, 6, 0),
  'minor-sixth': flat(...TRIAD.minor, 6, 0),
  'dominant-ninth': flat(...TRIAD.major, 7, 0, 9, 0),
  'major-ninth': flat(...TRIAD.major, 7, 1, 9, 0),
  'minor-ninth': flat(...TRIAD.minor, 7, 0, 9, 0),
  'dominant-11th': flat(...TRIAD.major, 7, 0, 9, 0, 11, 0),
  'major-11th': flat(...TRIAD.major, 7, 1, 9, 0, 11, 0),
  'minor-11th': flat(...TRIAD.minor, 7, 0, 9, 0, 11, 0),
  'dominant-13th': flat(...TRIAD.major, 7, 0, 9, 0, 11, 0, 13, 0),
  'major-13th': flat(...TRIAD.major, 7, 1, 9, 0, 11, 0, 13, 0),
  'minor-13th': flat(...TRIAD.minor, 7, 0, 9, 0, 11, 0, 13, 0),
  'suspended-second': flat(1, 0, 2, 0, 5, 0),
  'suspended-fourth': flat(1, 0, 4, 0, 5, 0),
  Neapolitan: flat(...TRIAD.major),
  Italian: flat(1, 0, 3, 0, 6, 1),
  French: flat(1, 0, 3, 0, 4, 1, 6, 1),
  German: flat(...TRIAD.major, 6, 1),
  pedal: flat(1, 0),
  power: flat(1, 0, 5, 0),
  Tristan: flat(1, 0, 4, 1, 6, 1, 9, 1),
  other: [],
  none: [],
};

/** Kinds whose name says more than their tones: they are never inferred from tones. */
export const NAMED: readonly ChordKind[] = [
  'Neapolitan',
  'Italian',
  'French',
  'German',
  'pedal',
  'Tristan',
  'other',
  'none',
];

/**
 * Where tones can be named by two kinds with as many changes, the earlier one here has it. The plainer chord comes
 * first, so that 7(b9) is a seventh with a note added and 9(#5) a ninth with its fifth changed.
 */
const PREFERENCE: readonly ChordKind[] = [
  ...CHORD_KINDS.slice(0, CHORD_KINDS.indexOf('augmented-seventh')),
  'half-diminished',
  'major-minor',
  'major-sixth',
  'minor-sixth',
  'suspended-fourth',
  'suspended-second',
  ...CHORD_KINDS.slice(
    CHORD_KINDS.indexOf('dominant-ninth'),
    CHORD_KINDS.indexOf('suspended-second'),
  ),
  'augmented-seventh',
  'power',
];

const SCALE = [0, 2, 4, 5, 7, 9, 10] as const;

/** How far a tone stands above its root, by spelling. */
export function intervalOf([value, alter]: Tone): Interval {
  const steps = value - 1;
  const octaves = Math.floor(steps / 7);
  return { steps, semitones: 12 * octaves + (SCALE[steps - 7 * octaves] ?? 0) + alter };
}

/** In the order they are stacked: by degree, then from flat to sharp; each once. */
export function inOrder(tones: readonly Tone[]): Tone[] {
  const sorted = [...tones].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  return sorted.filter((tone, i) => i === 0 || !same(tone, sorted[i - 1] as Tone));
}

function same(a: Tone, b: Tone): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

/** The tones that kind and degrees make together. */
export function chordTones(chord: Pick<Chord, 'kind' | 'degrees'>): Tone[] {
  let tones: Tone[] = [...TONES[chord.kind]];
  for (const { type, value, alter } of chord.degrees) {
    const has = tones.find((tone) => tone[0] === value);
    if (type === 'subtract') tones = tones.filter((tone) => tone[0] !== value);
    else if (type === 'add' || !has) tones.push([value, alter]);
    else tones = tones.map((tone) => (tone === has ? [value, has[1] + alter] : tone));
  }
  return inOrder(tones);
}

/** What must be done to a kind to reach these tones, in the order of degrees. */
function changes(kind: ChordKind, tones: readonly Tone[]): ChordDegree[] {
  const base = TONES[kind];
  const degrees: ChordDegree[] = [];
  for (let value = 1; value <= 13; value += 1) {
    const from = base.find((tone) => tone[0] === value);
    const to = tones.filter((tone) => tone[0] === value);
    const [first] = to;
    const kept = from && to.some((tone) => same(tone, from));
    if (from && !first) degrees.push({ type: 'subtract', value, alter: 0 });
    else if (from && first && !kept) {
      degrees.push({ type: 'alter', value, alter: first[1] - from[1] });
      for (const tone of to.slice(1)) degrees.push({ type: 'add', value, alter: tone[1] });
    } else {
      const added = to.filter((tone) => !from || !same(tone, from));
      for (const tone of added) degrees.push({ type: 'add', value, alter: tone[1] });
    }
  }
  return degrees;
}

/** A kind with what must be done to it to have exactly these tones. */
export function withTones(
  kind: ChordKind,
  tones: readonly Tone[],
): Pick<Chord, 'kind' | 'degrees'> {
  return { kind, degrees: changes(kind, tones) };
}

/** The kind that needs the fewest changes to have exactly these tones, and those changes. */
export function kindOf(tones: readonly Tone[]): Pick<Chord, 'kind' | 'degrees'> {
  const wanted = inOrder(tones);
  let best: Pick<Chord, 'kind' | 'degrees'> | null = null;
  for (const kind of PREFERENCE) {
    const degrees = changes(kind, wanted);
    if (!best || degrees.length < best.degrees.length) best = { kind, degrees };
  }
  if (!best) throw new RangeError('no kinds to choose from');
  return best;
}

/**
 * The one way this program writes a chord that can be said in several: `C7` with its fifth raised is the kind
 * augmented-seventh. The tones stay the same. A bass that is the root is no bass; `N.C.` has the root C.
 */
export function canonical(chord: Chord): Chord {
  if (chord.kind === 'none') return { root: 'C', kind: 'none', degrees: [], bass: null };
  const bass = chord.bass === chord.root ? null : chord.bass;
  // No two kinds have the same tones, so that a bare kind is itself already.
  if (chord.degrees.length === 0) return { root: chord.root, kind: chord.kind, degrees: [], bass };
  const tones = chordTones(chord);
  if (!NAMED.includes(chord.kind)) return { root: chord.root, ...kindOf(tones), bass };
  return { root: chord.root, kind: chord.kind, degrees: changes(chord.kind, tones), bass };
}
