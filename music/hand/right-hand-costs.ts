import { failure, type Failure, type Problem } from '../result.ts';
import { sayNote } from '../pitch/key.ts';
import { parsePitch, pitchClassOf, isNoteName } from '../pitch/pitch.ts';
import type { Own, Places, Way } from './best-path.ts';
import type { Bounds, Candidates } from './candidates.ts';
import { motionOfKeys } from './motion.ts';
import type { RightHandOptions } from './right-hand-options.ts';

export interface PlannedPlaces {
  readonly places: Places;
  readonly warnings: readonly Problem[];
}

/**
 * The costs of a right-hand plan, several ranks packed into the two numbers of `Places`: each rank
 * is multiplied by more than the ranks below it can ever sum to. First: what the goal asks for.
 * Then the tie-break: fingers exchanged, distance from the middle of the register, height.
 */
export function planPlaces(
  inHand: readonly Candidates[],
  bounds: Bounds,
  options: RightHandOptions,
  start: number | null,
): PlannedPlaces | Failure {
  const scale = scaleOf(inHand, bounds, options.goal ?? 'nearest');
  if ('ok' in scale) return scale;
  const wanted = scale.missed > 0 ? wantedTune(inHand, options.tune ?? []) : null;
  const { which, chords } = numbered(inHand);
  const own = chords.map((candidates) => placeCosts(candidates, bounds, scale));
  const ways = waysBetween(chords, scale);
  const places: Places = {
    sizes: inHand.map((each) => each.count),
    own(place) {
      const costs = own[which[place] as number] as Own;
      const missing = wanted?.missing[place];
      const fixed = place === 0 ? start : null;
      if (!missing && fixed === null) return costs;
      const first = costs.first.map(
        (cost, c) =>
          cost + (missing?.[c] ? scale.missed : 0) + (fixed === null || c === fixed ? 0 : Infinity),
      );
      return { first, then: costs.then };
    },
    way: (place) =>
      ways(which[place] as number, which[place + 1 < which.length ? place + 1 : 0] as number),
  };
  return { places, warnings: wanted?.warnings ?? [] };
}

/** Each different chord once, and for every place its number. */
function numbered(inHand: readonly Candidates[]): { which: Int32Array; chords: Candidates[] } {
  const numbers = new Map<Candidates, number>();
  const which = new Int32Array(inHand.length);
  for (let place = 0; place < inHand.length; place++) {
    const candidates = inHand[place] as Candidates;
    let number = numbers.get(candidates);
    if (number === undefined) numbers.set(candidates, (number = numbers.size));
    which[place] = number;
  }
  return { which, chords: [...numbers.keys()] };
}

/** What one unit of each rank weighs. */
interface Scale {
  /** A chord without the tune's note on top; 0 where the goal does not ask. */
  readonly missed: number;
  /** A finger that could have kept its key and does not; 0 where the goal does not ask. */
  readonly notKept: number;
  readonly exchanged: number;
  readonly fromMiddle: number;
}

function scaleOf(
  inHand: readonly Candidates[],
  bounds: Bounds,
  goal: NonNullable<RightHandOptions['goal']>,
): Scale | Failure {
  const count = inHand.length;
  const width = Math.max(1, bounds.high - bounds.low);
  const size = Math.max(1, ...inHand.map((each) => each.size));
  // The doubling of unequal sizes pairs at most both sizes' notes.
  const motion = 2 * size * width * count + 1;
  const height = width * count + 1;
  const fromMiddle = height * (width * count + 1);
  const notKept = goal === 'tune' ? motion : 0;
  const missed = goal === 'tune' ? motion * (size * count + 1) : 0;
  const tooBig = Math.max(missed * (count + 1), motion, fromMiddle * (5 * count + 1));
  if (tooBig > Number.MAX_SAFE_INTEGER)
    return failure({
      code: 'too-many-chords',
      message: `${count} chords at once are more than can be planned exactly; plan the sections one by one.`,
    });
  return { missed, notKept, exchanged: fromMiddle, fromMiddle: height };
}

function placeCosts(candidates: Candidates, bounds: Bounds, scale: Scale): Own {
  const { count, size, keys } = candidates;
  const costs = { first: new Float64Array(count), then: new Float64Array(count) };
  for (let c = 0; c < count; c++) {
    const low = keys[c * size] as number;
    const high = keys[c * size + size - 1] as number;
    const off = Math.abs(low + high - bounds.low - bounds.high);
    costs.then[c] = off * scale.fromMiddle + low - bounds.low;
  }
  return costs;
}

/**
 * Fingers exchanged between two sets of fingers, as bits: the greater number of those that come and
 * those that go.
 */
const EXCHANGED = new Uint8Array(64 * 64);
for (let a = 0; a < 64; a++)
  for (let b = 0; b < 64; b++) EXCHANGED[a * 64 + b] = Math.max(bits(a & ~b), bits(b & ~a));

function bits(number: number): number {
  let count = 0;
  for (let left = number; left > 0; left &= left - 1) count++;
  return count;
}

/**
 * The way between two chords; the fingers they exchange are looked up only where motion does not
 * decide.
 */
class ChordWay implements Way {
  readonly first: Float64Array;
  readonly at: number;
  readonly #from: Uint8Array;
  readonly #to: Uint8Array;
  readonly #weight: number;

  constructor(page: Float64Array, at: number, from: Candidates, to: Candidates, weight: number) {
    this.first = page;
    this.at = at;
    this.#from = from.hands;
    this.#to = to.hands;
    this.#weight = weight;
  }

  then(from: number, to: number): number {
    const hands = ((this.#from[from] as number) << 6) | (this.#to[to] as number);
    return (EXCHANGED[hands] as number) * this.#weight;
  }
}

/** Scratch paper, written over by every plan: it is made and read within one call of `plan`. */
let page = new Float64Array(8192);

/** The ways between numbered chords, each worked out when it is first asked for. */
function waysBetween(chords: readonly Candidates[], scale: Scale) {
  const known = new Array<Way | undefined>(chords.length * chords.length);
  let used = 0;
  return (a: number, b: number): Way => {
    const found = known[a * chords.length + b];
    if (found) return found;
    const from = chords[a] as Candidates;
    const to = chords[b] as Candidates;
    const length = from.count * to.count;
    if (used + length > page.length) {
      // The ways so far keep the old page.
      page = new Float64Array(Math.max(length, 2 * page.length));
      used = 0;
    }
    fillWay(page, used, from, to, scale);
    const way = new ChordWay(page, used, from, to, scale.exchanged);
    used += length;
    return (known[a * chords.length + b] = way);
  };
}

function fillWay(
  page: Float64Array,
  start: number,
  from: Candidates,
  to: Candidates,
  scale: Scale,
): void {
  if (from.size === 3 && to.size === 3) fillTriads(page, start, from, to);
  else fillAny(page, start, from, to);
  if (scale.notKept === 0) return;
  const smaller = Math.min(from.size, to.size);
  for (let a = 0, at = start; a < from.count; a++)
    for (let b = 0; b < to.count; b++, at++)
      page[at] = (page[at] as number) + (smaller - kept(from, a, to, b)) * scale.notKept;
}

function fillAny(page: Float64Array, start: number, from: Candidates, to: Candidates): void {
  const { keys, size } = from;
  for (let a = 0, at = start; a < from.count; a++)
    for (let b = 0; b < to.count; b++, at++)
      page[at] = motionOfKeys(keys, a * size, size, to.keys, b * to.size, to.size);
}

/** The commonest case by far, without a loop over the notes. */
function fillTriads(page: Float64Array, start: number, from: Candidates, to: Candidates): void {
  const there = to.keys;
  const end = there.length;
  let at = start;
  for (let a = 0; a < from.keys.length; a += 3) {
    const low = from.keys[a] as number;
    const middle = from.keys[a + 1] as number;
    const high = from.keys[a + 2] as number;
    for (let b = 0; b < end; b += 3, at++)
      page[at] =
        Math.abs(low - (there[b] as number)) +
        Math.abs(middle - (there[b + 1] as number)) +
        Math.abs(high - (there[b + 2] as number));
  }
}

function kept(from: Candidates, a: number, to: Candidates, b: number): number {
  let count = 0;
  for (let i = a * from.size; i < (a + 1) * from.size; i++)
    for (let j = b * to.size; j < (b + 1) * to.size; j++)
      if (from.keys[i] === to.keys[j] && from.fingers[i] === to.fingers[j]) count++;
  return count;
}

/** For every place the shapes that have not on top what is sung; null where that is no matter. */
function wantedTune(
  inHand: readonly Candidates[],
  tune: readonly (string | null)[],
): { missing: (readonly boolean[] | null)[]; warnings: Problem[] } {
  const warnings: Problem[] = [];
  const missing = inHand.map((candidates, place) => {
    const sung = tune[place] ?? null;
    if (sung === null) return null;
    const pitch = parsePitch(sung);
    const note = pitch ? pitch.midi % 12 : isNoteName(sung) ? pitchClassOf(sung) : -1;
    const tops = Array.from(
      { length: candidates.count },
      (_, c) => candidates.keys[(c + 1) * candidates.size - 1] as number,
    );
    if (pitch && tops.includes(pitch.midi)) return tops.map((top) => top !== pitch.midi);
    if (tops.some((top) => top % 12 === note)) return tops.map((top) => top % 12 !== note);
    warnings.push({
      code: 'tune-not-on-top',
      message: `Chord ${place + 1}: the tune's ${sayNote(sung)} cannot lie on top, no shape of ${candidates.tones.map(sayNote).join(' ')} has it there.`,
    });
    return null;
  });
  return { missing, warnings };
}
