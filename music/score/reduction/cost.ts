import { transposeNote } from '../../pitch/interval.ts';
import { alterIn, degreeOf } from '../../pitch/key.ts';
import { LETTERS, accidentalsOf, type NoteName } from '../../pitch/pitch.ts';
import type { KeyAt } from '../score.ts';
import type { Candidate } from './candidates.ts';
import { CHANGE_PRICE, DEGREE_PRICE, KIND_PRICE, PRICES } from './prices.ts';
import type { Strength } from './pulse.ts';

/** One reason why a chord costs what it does. */
export interface CostItem {
  readonly what:
    | 'notes outside'
    | 'bass'
    | 'root absent'
    | 'seventh absent'
    | 'triad ignored'
    | 'tones missing'
    | 'kind'
    | 'key'
    | 'silence'
    | 'change'
    | 'cadence';
  readonly points: number;
}

/** Notes that belong to a key: its signature, and in a minor-sounding mode the raised sixth and seventh. */
export function notesOfKey({ key, signature }: KeyAt): ReadonlySet<NoteName> {
  const notes = new Set(
    LETTERS.map((letter) => letter + accidentalsOf(alterIn(signature, letter))),
  );
  if (notes.has(transposeNote(key.tonic, { steps: 2, semitones: 3 }))) {
    notes.add(transposeNote(key.tonic, { steps: 5, semitones: 9 }));
    notes.add(transposeNote(key.tonic, { steps: 6, semitones: 11 }));
  }
  return notes;
}

/** Prices of a chord as a whole, given which of its tones sounded in it. */
export function wholeItems(
  { chord, tones }: Candidate,
  present: number,
  key: KeyAt,
  inKey: ReadonlySet<NoteName>,
): CostItem[] {
  const missing = (tone: number) => (present & (1 << tone)) === 0;
  let foreign = 0;
  tones.forEach((tone, place) => {
    if (inKey.has(tone)) return;
    foreign += missing(place) ? PRICES.foreignMissing : PRICES.foreignTone;
  });
  const degree = degreeOf(key.key, chord.root);
  const plain = degree.alter === 0 ? (DEGREE_PRICE[degree.degree - 1] ?? 0) : 0;
  const absent = (missing(1) ? PRICES.thirdMissing : 0) + (missing(2) ? PRICES.fifthMissing : 0);
  if (tones.length === 0) return [];
  return [
    { what: 'tones missing', points: absent },
    { what: 'kind', points: KIND_PRICE[chord.kind] ?? 0 },
    { what: 'key', points: foreign + plain },
  ];
}

/** How two chords follow each other, whatever the moment. */
export type Succession = 'same' | 'same root' | 'on' | 'unresolved';

export function successionOf(from: Candidate, to: Candidate): Succession {
  if (from === to) return 'same';
  if (from.chord.root === to.chord.root) return 'same root';
  if (from.chord.kind !== 'dominant' || to.tones.length === 0) return 'on';
  const goals = [
    { steps: 3, semitones: 5 },
    { steps: 1, semitones: 1 },
    { steps: 1, semitones: 2 },
  ];
  const resolves = goals.some((goal) => to.chord.root === transposeNote(from.chord.root, goal));
  return resolves ? 'on' : 'unresolved';
}

/** Going from one chord to the next at a moment of some strength. */
export function changeItems(
  succession: Succession,
  strength: Strength,
): { change: number; cadence: number } {
  if (succession === 'same') return { change: 0, cadence: 0 };
  const price = CHANGE_PRICE[strength];
  return {
    change: succession === 'same root' ? Math.round(price / 2) : price,
    cadence: succession === 'unresolved' ? PRICES.unresolved : 0,
  };
}
