import { midiOf, type PitchName } from '../pitch/pitch.ts';
import {
  canFollow,
  ofNote,
  ofStep,
  ofThree,
  type Fingered,
  type LinePoints,
  type LineRule,
} from './line-rules.ts';
import { isPublished, ofShape } from './shape-fingering.ts';
import type { Hand } from './shape.ts';
import { holdingCost } from './spans.ts';

/**
 * What a fingering costs where notes sound together. Al Kasimi, Nichols & Raphael (ISMIR 2007) have a vertical cost, inside a
 * chord, beside a horizontal one, between neighbours; which rules there are and what they weigh is ours.
 */
export const CHORD_RULES = [
  'holding',
  'departure',
  'key under another finger',
  'finger to another key',
  'thumb passing a chord',
  'hand put anew',
] as const;
export type ChordRule = (typeof CHORD_RULES)[number];
export type PartRule = LineRule | ChordRule;

/** The points of a fingering, rule by rule; rules without points are missing. */
export type PartPoints = Readonly<Partial<Record<PartRule, number>>>;

/**
 * Points, on the scale of Parncutt et al. 1997, where a semitone too wide costs 1 to 4. Ours, not published; set so that
 * every published fingering stands where its chord stands alone, and gives way only to a better way into and out of it.
 */
export const CHORD_POINTS = {
  /** Notes together are not under the fingers that are published for them. */
  departure: 12,
  /** Likewise where nothing is published, and `ofShape` works fingers out from spans. */
  unusual: 4,
  /** A key is struck again, or stays, under another finger: each. */
  changed: 3,
  /** A finger goes from one key to another: each. */
  moved: 1,
  /** The thumb goes under a finger, or a finger over it, into or out of a chord: each pair that changes sides. */
  passed: 2,
  /** The hand leaves its place altogether, into or out of a chord. */
  anew: 4,
  /** Likewise between single notes: dearer than any step that the line's model allows, so only where it must be. */
  anewInLine: 30,
} as const;

/** Keys with their fingers, from the thumb's side. */
export type Grip = readonly Fingered[];

/** The left hand is the right hand in a mirror about D4: its white and black keys lie alike on both sides. */
const MIRROR = 2 * 62;

/** Semitones from the thumb's side: as they are, C4 = 60, for the right hand, in the mirror for the left. */
export function keysOf(notes: readonly PitchName[], hand: Hand): number[] {
  const keys = notes.map(midiOf).map((key) => (hand === 'right' ? key : MIRROR - key));
  return keys.sort((a, b) => a - b);
}

/** From low to high to the thumb's side first, and back. */
export const turned = (fingers: readonly number[], hand: Hand): number[] =>
  hand === 'right' ? [...fingers] : [...fingers].reverse();

/** Every way to lay fingers on so many keys at once, none across another (Al Kasimi et al. 2007), nearest the thumb first. */
export const WAYS: readonly (readonly (readonly number[])[])[] = [0, 1, 2, 3, 4, 5].map((count) =>
  ascending(1, count),
);

function ascending(from: number, count: number): number[][] {
  if (count === 0) return [[]];
  const found: number[][] = [];
  for (let first = from; first <= 6 - count; first += 1)
    for (const rest of ascending(first + 1, count - 1)) found.push([first, ...rest]);
  return found;
}

/** The usual fingers of notes together, and what it costs to depart from them. */
export function usualOf(notes: readonly PitchName[], hand: Hand) {
  if (notes.length < 2) return null;
  const points = isPublished(notes, hand) ? CHORD_POINTS.departure : CHORD_POINTS.unusual;
  return { fingers: turned(ofShape(notes, hand), hand).join(), points };
}

/** Vertical: what is struck at once. One note has the points of its line's rules. */
export function together(grip: Grip, usual: ReturnType<typeof usualOf>): PartPoints {
  const [only] = grip;
  if (only && grip.length === 1) return ofNote(only);
  let holding = 0;
  grip.slice(1).forEach(({ key, finger }, i) => {
    const before = grip[i];
    if (before) holding += holdingCost(before.finger, finger, key - before.key);
  });
  const isUsual = usual === null || usual.fingers === grip.map(({ finger }) => finger).join();
  return { holding, departure: isUsual ? 0 : usual.points };
}

/** Horizontal: from what was struck before. Between single notes it is the step of a line. */
export function between(from: Grip, to: Grip): PartPoints {
  const [first, next] = [from[0], to[0]];
  if (first && next && from.length === 1 && to.length === 1)
    return canFollow(first, next)
      ? ofStep(first, next)
      : { 'hand put anew': CHORD_POINTS.anewInLine };
  let [changed, moved, passed] = [0, 0, 0];
  let isInPlace = true;
  for (const one of from)
    for (const other of to) {
      const [isSameKey, isSameFinger] = [one.key === other.key, one.finger === other.finger];
      if (isSameKey) changed += isSameFinger ? 0 : 1;
      else if (isSameFinger) moved += 1;
      else if (!canFollow(one, other)) isInPlace = false;
      else if (one.finger < other.finger !== one.key < other.key) passed += 1;
    }
  const kept = { 'key under another finger': changed * CHORD_POINTS.changed };
  const ways = moved * CHORD_POINTS.moved;
  const passing = passed * CHORD_POINTS.passed;
  return isInPlace && ways + passing <= CHORD_POINTS.anew
    ? { ...kept, 'finger to another key': ways, 'thumb passing a chord': passing }
    : { ...kept, 'hand put anew': CHORD_POINTS.anew };
}

/** Three single notes in a row, where the hand is not put anew among them. */
export function ofThreeNotes(first: Grip, second: Grip, third: Grip): LinePoints {
  const [one, two, three] = [first[0], second[0], third[0]];
  if (!one || !two || !three || first.length + second.length + third.length > 3) return {};
  return canFollow(one, two) && canFollow(two, three) ? ofThree(one, two, three) : {};
}
