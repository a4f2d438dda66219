import { keyNameOf, midiOf, type PitchName } from '../pitch/pitch.ts';
import type { Range } from './range.ts';

export const VOICE_KINDS = ['lower', 'middle', 'higher', 'child'] as const;
/** Which voice someone says they have, in plain words. */
export type VoiceKind = (typeof VOICE_KINDS)[number];

/** `too low` and `too high` only of the first note; from then on the way is known. */
export type RangeAnswer = 'easy' | 'hard' | 'too low' | 'too high';

/** Where the notes are asked for a kind of voice. Notes sound as they are written here. */
interface VoicePlan {
  readonly first: PitchName;
  /** Nothing is asked beyond these, however easy it is. */
  readonly within: Range;
  /** Whether the half step before the first hard note is asked too. */
  readonly halfSteps: boolean;
  readonly source: string;
}

/** Where to begin and where to end in any case; published ranges of choirs, never a target. */
const PLANS: Readonly<Record<VoiceKind, VoicePlan>> = {
  lower: {
    first: 'D3',
    within: { low: 'E2', high: 'A4' },
    halfSteps: true,
    source:
      'Basses E2–E4, baritones A2–A4 (musicnotes.com); D3 is the middle of F2–C4, basses of an amateur church choir (music.stackexchange.com 5977)',
  },
  middle: {
    first: 'A3',
    within: { low: 'C3', high: 'D5' },
    halfSteps: true,
    source:
      'Tenors C3–C5 (musicnotes.com), altos G3–D5 (moonshizzleproductions.com 2011); A3 lies easily in both (our choice)',
  },
  higher: {
    first: 'F4',
    within: { low: 'F3', high: 'A5' },
    halfSteps: true,
    source:
      'Altos F3–F5, sopranos C4–A5 (standard choir, Haskell library hmt 0.20); F4 lies a step below the middle of B♭3–E5, sopranos of an amateur church choir (music.stackexchange.com 5977)',
  },
  child: {
    first: 'F4',
    within: { low: 'C4', high: 'F5' },
    halfSteps: false,
    source:
      'Younger school children C4–F5 (yamspace.org 2015, as in the guidelines for children); F4 lies in all of them (our choice)',
  },
};

/** Half steps from one asked note to the next, and from a first note that does not suit to another. */
const STEP = 2;
const FIRST_STEP = 4;
const OCTAVE = 12;

/** A search as far as it has come; all of it follows from what was answered, so that a step back is one answer less. */
export interface RangeSearch {
  readonly voice: VoiceKind;
  /** Whole octaves that this singer sings beside where the voice was looked for. */
  readonly octaves: -1 | 0 | 1;
  readonly answers: readonly RangeAnswer[];
}

/** One end of what was found: the singer stopped there, or no further note is asked. */
export type RangeEnd = 'hard beyond' | 'not asked beyond';

export type RangeStage =
  | {
      readonly stage: 'first' | 'down' | 'up';
      /** The note that is asked now, sounding. */
      readonly note: PitchName;
      /** What has been easy so far; null: nothing yet. */
      readonly easy: Range | null;
    }
  | {
      readonly stage: 'found';
      readonly range: Range;
      readonly ends: Record<'low' | 'high', RangeEnd>;
    }
  /** No first note was easy. */
  | { readonly stage: 'none' };

export function begin(voice: VoiceKind): RangeSearch {
  return { voice, octaves: 0, answers: [] };
}

/** Where the answers lead. All in half steps, C4 = 60. */
interface Walk {
  first: number;
  low: number | null;
  high: number | null;
  /** The nearest notes that were not easy, on either side. */
  hardBelow: number;
  hardAbove: number;
}

function boundsOf({ voice, octaves }: RangeSearch): { first: number; low: number; high: number } {
  const { first, within } = PLANS[voice];
  const [at, low, high] = [first, within.low, within.high].map(
    (name) => midiOf(name) + OCTAVE * octaves,
  ) as [number, number, number];
  return { first: at, low, high };
}

/**
 * The next note outwards from an easy one: a whole step, and where that one was hard the half step before it.
 * null: this side is done. Never a note that was hard, nor one beyond it or beyond the edge.
 */
function outwards(from: number, hard: number, edge: number, halfSteps: boolean): number | null {
  const way = Math.sign(edge - from);
  const free = Math.abs(hard - from) - 1;
  if (way === 0 || (free < STEP && !(free === 1 && halfSteps))) return null;
  return from + way * Math.min(STEP, free, Math.abs(edge - from));
}

function nextOf(walk: Walk, search: RangeSearch): ['first' | 'down' | 'up', number] | null {
  const { low, high } = boundsOf(search);
  const { halfSteps } = PLANS[search.voice];
  if (walk.low === null || walk.high === null) {
    const { first, hardBelow, hardAbove } = walk;
    const isLeft = first >= low && first <= high && first > hardBelow && first < hardAbove;
    return isLeft ? ['first', first] : null;
  }
  const down = outwards(walk.low, walk.hardBelow, low, halfSteps);
  if (down !== null) return ['down', down];
  const up = outwards(walk.high, walk.hardAbove, high, halfSteps);
  return up === null ? null : ['up', up];
}

/** Another first note, nearer to the middle of what is left between too low and too high. */
function otherFirst({ first, hardBelow, hardAbove }: Walk, way: -1 | 1): number {
  const room = way === 1 ? hardAbove - first : first - hardBelow;
  return first + way * (Number.isFinite(room) ? Math.floor(room / 2) : FIRST_STEP);
}

function walkOf(search: RangeSearch): Walk {
  const walk: Walk = {
    first: boundsOf(search).first,
    low: null,
    high: null,
    hardBelow: -Infinity,
    hardAbove: Infinity,
  };
  for (const answer of search.answers) {
    const next = nextOf(walk, search);
    if (!next) throw new RangeError('The search is over: nothing more is asked.');
    take(walk, next, answer);
  }
  return walk;
}

function take(
  walk: Walk,
  [stage, note]: ['first' | 'down' | 'up', number],
  answer: RangeAnswer,
): void {
  const isFirst = stage === 'first';
  if (answer !== 'easy' && isFirst === (answer === 'hard')) {
    throw new RangeError(`${answer} is no answer to a note on the way ${stage}.`);
  }
  if (answer === 'easy') {
    if (stage !== 'up') walk.low = note;
    if (stage !== 'down') walk.high = note;
  } else if (isFirst) {
    const way = answer === 'too low' ? 1 : -1;
    if (way === 1) walk.hardBelow = note;
    else walk.hardAbove = note;
    walk.first = otherFirst(walk, way);
  } else if (stage === 'down') walk.hardBelow = note;
  else walk.hardAbove = note;
}

/** What is asked now, or what came out. @throws where the answers do not follow from what was asked */
export function stageOf(search: RangeSearch): RangeStage {
  const walk = walkOf(search);
  const { low, high } = walk;
  const range =
    low === null || high === null ? null : { low: keyNameOf(low), high: keyNameOf(high) };
  const next = nextOf(walk, search);
  if (next) return { stage: next[0], note: keyNameOf(next[1]), easy: range };
  if (!range) return { stage: 'none' };
  const endOf = (hard: number): RangeEnd =>
    Number.isFinite(hard) ? 'hard beyond' : 'not asked beyond';
  return {
    stage: 'found',
    range,
    ends: { low: endOf(walk.hardBelow), high: endOf(walk.hardAbove) },
  };
}

/** @throws where nothing is asked any more, or the answer does not fit what is asked */
export function answer(search: RangeSearch, given: RangeAnswer): RangeSearch {
  const next = { ...search, answers: [...search.answers, given] };
  walkOf(next);
  return next;
}

/** One step back; the same search where nothing was answered yet. */
export function back(search: RangeSearch): RangeSearch {
  return { ...search, answers: search.answers.slice(0, -1) };
}

/**
 * Looks an octave higher or lower, for who sings there what others sing here (men, boys whose voice has changed), and
 * begins anew there. The same search where that would be two octaves away.
 */
export function anOctave(search: RangeSearch, way: -1 | 1): RangeSearch {
  const octaves = search.octaves + way;
  if (octaves !== -1 && octaves !== 0 && octaves !== 1) return search;
  return { ...search, octaves, answers: [] };
}

/** The notes that can be asked of a voice, its two outermost: for who draws them. */
export function withinOf(search: RangeSearch): Range {
  const { low, high } = boundsOf(search);
  return { low: keyNameOf(low), high: keyNameOf(high) };
}
