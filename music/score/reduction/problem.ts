import type { Chord } from '../../pitch/chord.ts';
import { transposeNote } from '../../pitch/interval.ts';
import { fifthsOf } from '../../pitch/key.ts';
import type { NoteName } from '../../pitch/pitch.ts';
import type { KeyAt, Ticks } from '../score.ts';
import { keyAt } from '../time.ts';
import { candidateOf, candidatesOf, type Candidate } from './candidates.ts';
import {
  changeItems,
  notesOfKey,
  successionOf,
  wholeItems,
  type CostItem,
  type Succession,
} from './cost.ts';
import { PRICES } from './prices.ts';
import { priceUnder, stretchesOf, type Stretch, type StretchPrice } from './stretch.ts';
import type { Texture } from './texture.ts';

/** A chord that a person wrote: it stays. */
export interface Fixed {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly chord: Chord | null;
}

/** A chord (index into the candidates) over the stretches [from, to). */
export interface Segment {
  readonly from: number;
  readonly to: number;
  readonly candidate: number;
}

/** Everything the search needs. Prices are worked out once, when asked for. */
export interface Problem {
  readonly texture: Texture;
  readonly candidates: readonly Candidate[];
  readonly stretches: readonly Stretch[];
  /** Per stretch: the candidate that a person wrote, or null where the choice is free. */
  readonly fixed: readonly (number | null)[];
  /** Candidates that a person wrote: only for their own place. */
  readonly written: ReadonlySet<number>;
  /** The longest segment, in stretches; longer chords are segments of one chord, whose joins cost nothing. */
  readonly longest: number;
  price(stretch: number, candidate: number): StretchPrice;
  whole(candidate: number, present: number, stretch: number): number;
  wholeItems(candidate: number, present: number, stretch: number): CostItem[];
  succession(from: number, to: number): Succession;
}

export const NO_CHORD: Chord = { root: 'C', kind: 'none', degrees: [], bass: null };

/** Each answer worked out once; keys are whole numbers below a size. */
function memo<T>(size: number, work: (key: number) => T): (key: number) => T {
  const known = new Array<T | undefined>(size).fill(undefined);
  return (key) => (known[key] ??= work(key));
}

/** Note names from the tonic outwards on the line of fifths, the sharper of two first. */
function rootsOf(texture: Texture): NoteName[] {
  const tonic = fifthsOf(keyAt(texture.score, 0).key.tonic);
  const far = (name: NoteName) => Math.abs(2 * (fifthsOf(name) - tonic) - 0.5);
  const names = [...new Set(texture.notes.map((note) => note.name))];
  return names.sort((a, b) => far(a) - far(b));
}

export function problemOf(texture: Texture, fixed: readonly Fixed[] = [], longest = 12): Problem {
  const candidates = [...candidatesOf(rootsOf(texture)), candidateOf(NO_CHORD)];
  const written = fixed.map(({ chord }) => candidates.push(candidateOf(chord ?? NO_CHORD)) - 1);
  const stretches = stretchesOf(texture);
  const count = candidates.length;
  const keys = stretches.map(({ at }) => texture.score.keys.indexOf(keyAt(texture.score, at)));
  const inKey = memo(texture.score.keys.length, (key) =>
    notesOfKey(texture.score.keys[key] as KeyAt),
  );
  const items = (candidate: number, present: number, key: number) =>
    wholeItems(
      candidates[candidate] as Candidate,
      present,
      texture.score.keys[key] as KeyAt,
      inKey(key),
    );
  // Four tones at most: 16 sets of them.
  const wholes = memo(16 * count * texture.score.keys.length, (code) => {
    const [key, candidate] = [Math.floor(code / (16 * count)), Math.floor(code / 16) % count];
    return items(candidate, code % 16, key).reduce((sum, item) => sum + item.points, 0);
  });
  const prices = memo(count * stretches.length, (code) =>
    priceUnder(
      stretches[Math.floor(code / count)] as Stretch,
      candidates[code % count] as Candidate,
    ),
  );
  const successions = memo(count * count, (code) =>
    successionOf(
      candidates[Math.floor(code / count)] as Candidate,
      candidates[code % count] as Candidate,
    ),
  );
  return {
    texture,
    candidates,
    stretches,
    fixed: stretches.map(({ at }) => {
      const found = fixed.findIndex((each) => each.from <= at && at < each.to);
      return found < 0 ? null : (written[found] as number);
    }),
    written: new Set(written),
    longest,
    price: (stretch, candidate) => prices(stretch * count + candidate),
    whole: (candidate, present, stretch) =>
      wholes(((keys[stretch] as number) * count + candidate) * 16 + present),
    wholeItems: (candidate, present, stretch) => items(candidate, present, keys[stretch] as number),
    succession: (from, to) => successions(from * count + to),
  };
}

/** Points for going on from one candidate to another where a stretch begins. */
export function changePoints(problem: Problem, from: number, to: number, stretch: number): number {
  const succession = problem.succession(from, to);
  if (succession === 'same') return 0;
  const { change, cadence } = changeItems(
    succession,
    (problem.stretches[stretch] as Stretch).strength,
  );
  return change + cadence;
}

/** Points for a last chord that is not on the tonic, or not come to from a dominant; `before` null: it is alone. */
export function endPoints(problem: Problem, before: number | null, last: number): number {
  const { tonic } = keyAt(problem.texture.score, problem.stretches.at(-1)?.at ?? 0).key;
  const away = problem.candidates[last]?.chord.root === tonic ? 0 : PRICES.endsAway;
  const chord = before === null ? null : problem.candidates[before]?.chord;
  const dominant = !chord || isDominantOf(tonic, chord);
  return away + (dominant ? 0 : PRICES.endsWithoutDominant);
}

/** On the fifth degree, or diminished on the leading note. */
export function isDominantOf(tonic: NoteName, { root, kind }: Chord): boolean {
  const diminished =
    kind === 'diminished' || kind === 'diminished-seventh' || kind === 'half-diminished';
  return (
    root === transposeNote(tonic, { steps: 4, semitones: 7 }) ||
    (diminished && root === transposeNote(tonic, { steps: 6, semitones: 11 }))
  );
}
