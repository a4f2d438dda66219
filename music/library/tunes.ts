import { midiOf, type PitchName } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { melodyOf, soundingNotes } from '../score/time.ts';
import { leastCost, movesTo, type Alignment } from './tune-alignment.ts';

/** What a tune is found by, whatever its key: semitones from each note to the next. */
export interface TuneSign {
  readonly steps: readonly number[];
}

export interface TuneMatch {
  /** Index into the tunes that were asked. */
  readonly tune: number;
  /** 0: note for note; each note that is another, too many or missing adds to it. */
  readonly distance: number;
  /** Index of the first matched note of the tune. */
  readonly from: number;
}

/** In hundredths: a match that does not begin with the tune counts as if so much more were wrong, for people know how tunes begin. */
export const ELSEWHERE = 65;
/** Two notes are no tune: every tune holds every interval. */
export const FEWEST_NOTES = 3;
/** Who gives more has long given the tune away; each further note only costs time. */
export const MOST_COMPARED = 20;

/** The notes of a tune as they sound, ties joined, the highest of a chord; graces and rests are passed over. */
export function notesOf(score: Score): { readonly at: number; readonly pitch: PitchName }[] {
  const notes: { at: number; pitch: PitchName }[] = [];
  for (const { at, pitch } of soundingNotes(melodyOf(score))) {
    const last = notes.at(-1);
    if (last?.at !== at) notes.push({ at, pitch });
    else if (midiOf(pitch) > midiOf(last.pitch)) last.pitch = pitch;
  }
  return notes;
}

function stepsOf(pitches: readonly number[]): number[] {
  return pitches.slice(1).map((pitch, i) => pitch - (pitches[i] ?? pitch));
}

export function signOf(score: Score): TuneSign {
  return { steps: stepsOf(notesOf(score).map(({ pitch }) => midiOf(pitch))) };
}

/** Semitones above its first note, of every note. */
function heightsOf({ steps }: TuneSign): number[] {
  let height = 0;
  return [0, ...steps.map((step) => (height += step))];
}

const byRank = (a: TuneMatch & Ranked, b: TuneMatch & Ranked): number =>
  a.rank - b.rank || a.distance - b.distance || a.tune - b.tune;
interface Ranked {
  readonly rank: number;
}

/**
 * The tunes that begin like these notes, or hold them, the most like first. The distance is the least over all keys and
 * places: a note that is another costs the more the farther off it is (`leastCost`); one too many or missing costs one,
 * one that only repeats its neighbour a quarter. Exact; of equally like ones the first that was given comes first. Of
 * more than `MOST_COMPARED` notes the first count.
 */
export function find(
  notes: readonly PitchName[],
  tunes: readonly TuneSign[],
  most = 10,
): TuneMatch[] {
  const search = new TuneSearch(notes, most);
  for (const tune of tunes) search.look(tune);
  return search.found;
}

/** `find`, a tune at a time, so that whoever looks through many can let others have their turn. */
export class TuneSearch {
  readonly #asked: readonly number[];
  readonly #most: number;
  readonly #best: (TuneMatch & Ranked)[] = [];
  #looked = 0;

  constructor(notes: readonly PitchName[], most = 10) {
    this.#asked = notes.slice(0, MOST_COMPARED).map(midiOf);
    this.#most = most;
  }

  look(sign: TuneSign): void {
    const tune = this.#looked;
    this.#looked += 1;
    if (this.#asked.length < FEWEST_NOTES || sign.steps.length === 0) return;
    const best = this.#best;
    const worst = best.length < this.#most ? Infinity : (best.at(-1)?.rank ?? Infinity);
    const found = bestIn(this.#asked, heightsOf(sign), worst);
    if (!found) return;
    best.push({ tune, ...found });
    best.sort(byRank);
    if (best.length > this.#most) best.pop();
  }

  /** Of the tunes that were looked at, by their order. */
  get found(): TuneMatch[] {
    return this.#best.map(({ tune, distance, from }) => ({ tune, distance: distance / 100, from }));
  }
}

/** The best of all keys, if its rank is not above `worst`. */
function bestIn(
  asked: readonly number[],
  tune: readonly number[],
  worst: number,
): (Alignment & Ranked) | null {
  let best: (Alignment & Ranked) | null = null;
  for (const { by, atLeast } of movesTo(asked, tune)) {
    if (atLeast > worst || (best && atLeast >= best.rank)) break;
    const moved = asked.map((pitch) => pitch + by);
    const found = leastCost(moved, tune, ELSEWHERE, best ? best.rank - 1 : worst);
    if (!found) continue;
    const rank = found.distance + (found.from === 0 ? 0 : ELSEWHERE);
    if (rank > worst || (best && rank >= best.rank)) continue;
    best = { ...found, rank };
  }
  return best;
}

/** Of the moves of two tunes, this part may be another for them to be the same: a passing note, a slip in a copy. */
const SAME_PART = 0.1;
/** One note that is another changes two moves. */
const ONE_NOTE = 2;
/** Shorter tunes are alike by chance. */
const SHORTEST_TUNE = 10;

/** Moves without those that stay where they are, so that syllables sung on one note do not count. */
const moving = ({ steps }: TuneSign): number[] => steps.filter((step) => step !== 0);

/** Whether two songs have the same melody, perhaps in another key: their moves agree but for one in ten. */
export function alike(one: TuneSign, other: TuneSign): boolean {
  const [a, b] = [moving(one), moving(other)];
  const longest = Math.max(a.length, b.length);
  if (Math.min(a.length, b.length) < SHORTEST_TUNE) return false;
  const limit = Math.max(ONE_NOTE, Math.floor(longest * SAME_PART));
  return Math.abs(a.length - b.length) <= limit && changesWithin(a, b, limit);
}

/** Copies of one melody differ in at most so many of their first moves; any two hymns of the demo differ in more. */
const OTHER_PART = 0.4;
/** So many moves are a beginning: the first verse of what may be written once or out. */
const BEGINNING = 40;

/** Whether two melodies are not plainly others: nothing speaks against it where one is too short to tell. */
export function mayBeAlike(one: TuneSign, other: TuneSign): boolean {
  const [a, b] = [moving(one), moving(other)];
  const length = Math.min(a.length, b.length, BEGINNING);
  if (length < SHORTEST_TUNE) return true;
  return changesWithin(a.slice(0, length), b.slice(0, length), Math.floor(length * OTHER_PART));
}

/** Whether one list becomes the other by at most so many changed, left out or put in entries (Levenshtein, in a band). */
function changesWithin(a: readonly number[], b: readonly number[], limit: number): boolean {
  let row: number[] = b.map((_, j) => j + 1);
  row.unshift(0);
  for (let i = 1; i <= a.length; i += 1) {
    const next = new Array<number>(b.length + 1).fill(limit + 1);
    next[0] = i;
    let least = i;
    for (let j = Math.max(1, i - limit); j <= Math.min(b.length, i + limit); j += 1) {
      const change = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      const cost = Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1);
      next[j] = cost;
      least = Math.min(least, cost);
    }
    if (least > limit) return false;
    row = next;
  }
  return (row[b.length] ?? limit + 1) <= limit;
}
