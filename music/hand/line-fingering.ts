import { midiOf, type PitchName } from '../pitch/pitch.ts';
import {
  canFollow,
  LINE_RULES,
  ofNote,
  ofStep,
  ofThree,
  sumOf,
  type Fingered,
  type LinePoints,
  type LineRule,
} from './line-rules.ts';
import type { Hand } from './shape.ts';

/** One way to finger a line, with its points: 0 and up, fewer are easier. */
export interface LineFingering {
  readonly fingers: readonly number[];
  readonly total: number;
  /** What makes up the total, by rule; rules without points are missing. */
  readonly points: LinePoints;
}

export interface LineOptions {
  /** How many ways are wanted, the easiest first. Default 1. */
  readonly most?: number;
  /** Fingers that are given, by place; null or missing: free. */
  readonly fixed?: readonly (number | null)[];
}

const FINGERS = [1, 2, 3, 4, 5] as const;

/** The left hand is the right hand in a mirror about D4: its white and black keys lie alike on both sides. */
const MIRROR = 2 * 62;

function keysOf(notes: readonly PitchName[], hand: Hand): number[] {
  return notes.map(midiOf).map((key) => (hand === 'right' ? key : MIRROR - key));
}

/** The points of one way to finger a line, by the rules of Parncutt et al. 1997 (see `LINE_RULES`). */
export function pointsOf(
  notes: readonly PitchName[],
  fingers: readonly number[],
  hand: Hand,
): LineFingering {
  const line = keysOf(notes, hand).map((key, i): Fingered => ({ key, finger: fingers[i] ?? 0 }));
  const points: Partial<Record<LineRule, number>> = {};
  const add = (more: LinePoints) => {
    for (const rule of LINE_RULES) if (more[rule]) points[rule] = (points[rule] ?? 0) + more[rule];
  };
  line.forEach((note, i) => {
    const [before, second] = [line[i - 1], line[i - 2]];
    add(ofNote(note));
    if (before) add(ofStep(before, note));
    if (before && second) add(ofThree(second, before, note));
  });
  return { fingers: [...fingers], total: sumOf(points), points };
}

/** A way to the last two notes: the fingers so far and what they cost. */
interface Way {
  readonly fingers: readonly number[];
  readonly total: number;
}

/** Fewer points; of equals the one whose finger is nearer the thumb where two first differ. */
function inOrder(a: Way, b: Way): number {
  if (a.total !== b.total) return a.total - b.total;
  const at = a.fingers.findIndex((finger, i) => finger !== b.fingers[i]);
  return at < 0 ? 0 : (a.fingers[at] ?? 0) - (b.fingers[at] ?? 0);
}

/**
 * The easiest ways to finger notes played one after another, exact, by dynamic programming over the last two fingers:
 * fewest points by the ergonomic model of Parncutt et al. 1997, of equals nearest the thumb where they first differ.
 * Even experts disagree (Nakamura, Saito & Yoshii 2020), so take what comes first as one good choice among several. A
 * repeated note keeps its finger; two notes are never played by one finger in turn. Where a leap is wider than any hand
 * the model knows, the hand is put anew: the line is cut there.
 * @param notes in order, none of them together with another
 */
export function ofLine(
  notes: readonly PitchName[],
  hand: Hand,
  { most = 1, fixed = [] }: LineOptions = {},
): LineFingering[] {
  const keys = keysOf(notes, hand);
  let ways: Way[] = [{ fingers: [], total: 0 }];
  keys.forEach((key, i) => {
    const allowed = FINGERS.filter((finger) => (fixed[i] ?? finger) === finger);
    const next = ways.flatMap((way) =>
      allowed.flatMap((finger) => onTo(way, keys, i, key, finger)),
    );
    // A leap that no pair of fingers can take: the hand is put anew.
    const led =
      next.length > 0 ? next : ways.flatMap((way) => allowed.map((f) => anew(way, key, f)));
    ways = bestOfEach(led, most);
  });
  return ways
    .sort(inOrder)
    .slice(0, most)
    .map(({ fingers }) => pointsOf(notes, fingers, hand));
}

function onTo(way: Way, keys: readonly number[], i: number, key: number, finger: number): Way[] {
  const at = (back: number): Fingered | null => {
    const [place, before] = [keys[i - back], way.fingers[i - back]];
    return place === undefined || before === undefined ? null : { key: place, finger: before };
  };
  const note = { key, finger };
  const [before, second] = [at(1), at(2)];
  if (before && !canFollow(before, note)) return [];
  const points = [
    ofNote(note),
    before ? ofStep(before, note) : {},
    before && second ? ofThree(second, before, note) : {},
  ];
  const total = points.reduce((sum, each) => sum + sumOf(each), way.total);
  return [{ fingers: [...way.fingers, finger], total }];
}

const anew = (way: Way, key: number, finger: number): Way => ({
  fingers: [...way.fingers, finger],
  total: way.total + sumOf(ofNote({ key, finger })),
});

/** What comes later depends on the last two fingers alone: of each pair the best few are enough. */
function bestOfEach(ways: readonly Way[], most: number): Way[] {
  const groups = new Map<string, Way[]>();
  for (const way of ways) {
    const last = way.fingers.slice(-2).join(' ');
    groups.set(last, [...(groups.get(last) ?? []), way]);
  }
  return [...groups.values()].flatMap((group) => group.sort(inOrder).slice(0, most));
}
