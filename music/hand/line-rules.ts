import { isBlackKey } from './shape.ts';
import { spanOf, type Span } from './spans.ts';

/** One note of a line under a finger: semitones with C4 = 60, finger 1 (thumb) to 5. */
export interface Fingered {
  readonly key: number;
  readonly finger: number;
}

/**
 * The twelve rules of Parncutt, Sloboda, Clarke, Raekallio & Desain 1997, "An Ergonomic Model of Keyboard Fingering for
 * Melodic Fragments", Music Perception 14(4) 341–382, in the order of the paper.
 */
export const LINE_RULES = [
  'stretch',
  'small span',
  'large span',
  'position changes',
  'size of position changes',
  'weak finger',
  'three, four and five together',
  'three to four',
  'four on black',
  'thumb on black',
  'five on black',
  'thumb passing',
] as const;
export type LineRule = (typeof LINE_RULES)[number];

/** The points of a fingering, rule by rule; rules without points are missing. */
export type LinePoints = Readonly<Partial<Record<LineRule, number>>>;

const NO_SPAN: Span = {
  minPractical: 0,
  minComfortable: 0,
  minRelaxed: 0,
  maxRelaxed: 0,
  maxComfortable: 0,
  maxPractical: 0,
};

/** Semitones from the lower finger to the higher, and what they may be; one finger spans nothing. */
function spread(from: Fingered, to: Fingered): { readonly span: Span; readonly keys: number } {
  const keys = (to.key - from.key) * (from.finger > to.finger ? -1 : 1);
  return { span: from.finger === to.finger ? NO_SPAN : spanOf(from.finger, to.finger), keys };
}

/** Whether a hand can go from one note to the next without leaving its place: the practical spans of the paper. */
export function canFollow(from: Fingered, to: Fingered): boolean {
  const { span, keys } = spread(from, to);
  return keys >= span.minPractical && keys <= span.maxPractical;
}

const beyond = (keys: number, { minComfortable, maxComfortable }: Span): number =>
  Math.max(0, keys - maxComfortable, minComfortable - keys);
const isThumb = ({ finger }: Fingered): boolean => finger === 1;
const isBlack = ({ key }: Fingered): boolean => isBlackKey(key);

/** Rules 2, 3 and 12 weigh the thumb otherwise than the other fingers. */
function ofSpan(from: Fingered, to: Fingered): LinePoints {
  const { span, keys } = spread(from, to);
  const weight = isThumb(from) || isThumb(to) ? 1 : 2;
  return {
    stretch: 2 * beyond(keys, span),
    'small span': weight * Math.max(0, span.minRelaxed - keys),
    'large span': weight * Math.max(0, keys - span.maxRelaxed),
  };
}

/** The thumb goes under to a higher note, or a finger over it to a lower one. */
function thumbPassing(from: Fingered, to: Fingered): number {
  const [lower, upper] = from.key < to.key ? [from, to] : [to, from];
  if (lower.key === upper.key || !isThumb(upper) || isThumb(lower)) return 0;
  if (isBlack(lower) === isBlack(upper)) return 1;
  return isBlack(upper) ? 3 : 0;
}

/** Points of a step: the first note's own stand with the step that leads to it, so a line begins with `ofNote`. */
export function ofStep(from: Fingered, to: Fingered): LinePoints {
  const [three, four] = from.finger === 3 ? [from, to] : [to, from];
  const isThreeFour = three.finger === 3 && four.finger === 4;
  const comes = isBlack(from) ? 0 : 2;
  const goes = isBlack(to) ? 0 : 2;
  return {
    ...ofSpan(from, to),
    'three to four': from.finger === 3 && to.finger === 4 ? 1 : 0,
    'four on black': isThreeFour && !isBlack(three) && isBlack(four) ? 1 : 0,
    'thumb on black':
      (isThumb(to) && isBlack(to) ? comes : 0) + (isThumb(from) && isBlack(from) ? goes : 0),
    'five on black':
      (to.finger === 5 && isBlack(to) ? comes : 0) +
      (from.finger === 5 && isBlack(from) ? goes : 0),
    'thumb passing': thumbPassing(from, to),
  };
}

export function ofNote(note: Fingered): LinePoints {
  return {
    'weak finger': note.finger > 3 ? 1 : 0,
    'thumb on black': isThumb(note) && isBlack(note) ? 1 : 0,
  };
}

/** Rules 4, 5 and 7 look at three notes in a row. */
export function ofThree(first: Fingered, second: Fingered, third: Fingered): LinePoints {
  const fingers = new Set([first.finger, second.finger, third.finger]);
  const { span, keys } = spread(first, third);
  const size = beyond(keys, span);
  const between =
    Math.min(first.key, third.key) < second.key && second.key < Math.max(first.key, third.key);
  const isFar = keys > span.maxPractical || keys < span.minPractical;
  const isFull = isThumb(second) && between && isFar;
  return {
    'position changes': size === 0 ? 0 : isFull ? 2 : 1,
    'size of position changes': size,
    'three, four and five together': [3, 4, 5].every((finger) => fingers.has(finger)) ? 1 : 0,
  };
}

export const sumOf = (points: LinePoints): number =>
  Object.values(points).reduce((sum, each) => sum + each, 0);
