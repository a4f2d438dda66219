import { UNHURRIED_SECONDS } from '../../hand/difficulty-weights.ts';
import { canFollow } from '../../hand/line-rules.ts';
import { ofMove } from '../../hand/move-difficulty.ts';
import { isSameShape } from '../../hand/move-words.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { say as sayChord } from '../../pitch/chord-symbol.ts';
import { says as saysIn } from '../../pitch/says.ts';
import { sayBeats } from '../../score/beat-words.ts';
import { counted, listed, numberWord } from '../../score/number-words.ts';
import type { Ticks } from '../../score/score.ts';
import { barAt } from '../../score/time.ts';
import type { KnownShape } from '../known-shape.ts';
import type { PartShape } from '../part.ts';
import { neighboursOf } from '../changes.ts';
import {
  betweenStrikes,
  sayBar,
  sayPitches,
  sayRate,
  sayTogether,
  strikesOf,
  timeAt,
  timeOfMove,
  type ChordPlayed,
  type PlayedPart,
  type Strike,
} from './part-difficulty-strikes.ts';

export type PartDifficultyKind =
  'right hand' | 'left hand' | 'strikes' | 'octaves in turn' | 'new shapes';

/** What one side of a part costs at its hardest place. */
export interface PartDifficultyItem {
  readonly what: PartDifficultyKind;
  /** `Em to C in bar 7: B3 E4 G4 to C4 E4 G4, 1 beat at 80 a minute: 0.8 seconds`. */
  readonly words: string;
  /** `bar 7, from Em to C in one beat`: for a line with others. */
  readonly brief: string;
  /** 0 and up, on the scale of `Difficulty.ofMove`. */
  readonly cost: number;
  /** Where that place is. */
  readonly at: Ticks;
}

/** The dearest item of a part that is easy: see `PART_LIMITS`. */
export const EASY = 12;

/**
 * What each side weighs: ours, not published. Two strikes a second, eight new shapes (as many as one picture strip holds)
 * and a fifth of the left hand within 0.6 seconds are as easy as the hardest change that is easy.
 */
export const PART_WEIGHTS = {
  /** A change between two shapes that the player has met costs this part of it. */
  known: 0.5,
  /** Each strike a second, in the bar where a hand strikes most often. */
  strikes: 6,
  /** Each change a second between the two notes of an octave. */
  octaves: 8,
  /** Each shape that they have not met. */
  shape: 1.5,
  /** The left hand leaves its place: eyes and thought are with the right. */
  leftShift: 1.25,
  /** Each semitone that it goes. */
  leftSemitone: 0.3125,
} as const;

const hundredths = (cost: number): number => Math.round(cost * 100) / 100;

const isKnown = (shape: PartShape, known: readonly KnownShape[]): boolean =>
  known.some((met) => met.chord === sayChord(shape.chord) && isSameShape(met, shape));

/** The hardest of some; the first of equals. */
function hardest(items: readonly (PartDifficultyItem | null)[]): PartDifficultyItem | null {
  return items.reduce((most, item) => (item && item.cost > (most?.cost ?? 0) ? item : most), null);
}

export function rightHandItem(
  part: PlayedPart,
  chords: readonly ChordPlayed[],
  known: readonly KnownShape[],
): PartDifficultyItem | null {
  return hardest(rightHandItems(part, chords, known));
}

/** Every change of the right hand, each pair of neighbours once, in the order they come. */
export function rightHandItems(
  part: PlayedPart,
  chords: readonly ChordPlayed[],
  known: readonly KnownShape[],
): PartDifficultyItem[] {
  return neighboursOf(part.score, chords).flatMap((pair) => {
    const { before, after } = pair;
    const [from, to] = [before.shape, after.shape];
    const time = timeOfMove(pair);
    if (!from || !to || time <= 0) return [];
    const { beats, tempo, words } = timeAt(part.score, before.from, time);
    const share = isKnown(from, known) && isKnown(to, known) ? PART_WEIGHTS.known : 1;
    const says = saysIn(part.names);
    const names = `${says.chord(before.chord)} to ${says.chord(after.chord)}`;
    const keys = `${sayPitches(from.notes, says)} to ${sayPitches(to.notes, says)}`;
    const [left, reached] = [says.chord(before.chord), says.chord(after.chord)];
    // A chord that moves to another place on the keys would be named twice.
    const way = left === reached ? `within ${left} from ${keys}` : `from ${names}`;
    return {
      what: 'right hand' as const,
      words: `${names} in ${sayBar(part.score, after.from)}: ${keys}, ${words}`,
      brief: `${sayBar(part.score, after.from)}, ${way} in ${sayBeats(beats)}`,
      cost: hundredths(share * ofMove(from, to, beats, tempo).total),
      at: after.from,
    };
  });
}

export function leftHandItem(
  part: PlayedPart,
  chords: readonly ChordPlayed[],
): PartDifficultyItem | null {
  return hardest(leftHandItems(part, chords));
}

/** Every way that the left hand goes, in the order they come. */
export function leftHandItems(
  part: PlayedPart,
  chords: readonly ChordPlayed[],
): PartDifficultyItem[] {
  return neighboursOf(part.score, chords).flatMap((pair) => {
    const { before, after } = pair;
    const [first] = after.left;
    const strikes = [...before.left, ...(first ? [first] : [])];
    return strikes.flatMap((next, i) => {
      const last = strikes[i - 1];
      if (!last || isStep(last, next)) return [];
      const isChange = next === first;
      const time = isChange ? betweenStrikes(pair, before.left, after.left) : next.at - last.at;
      const way = wayOf(inPlace(strikes.slice(0, i)), next);
      if (time <= 0 || way === 0) return [];
      const { beats, seconds, words } = timeAt(part.score, last.at, time);
      const base = PART_WEIGHTS.leftShift + way * PART_WEIGHTS.leftSemitone;
      const hurry = seconds === null ? 1 : Math.max(1, UNHURRIED_SECONDS / seconds);
      const says = saysIn(part.names);
      const keys = `${sayTogether(last.pitches, says)} to ${sayTogether(next.pitches, says)}`;
      const far = counted(way, 'half step', 'half steps');
      return {
        what: 'left hand' as const,
        words: `left hand from ${keys} in ${sayBar(part.score, next.at)}, the hand goes ${far}, ${words}`,
        brief: `${sayBar(part.score, next.at)}, the left hand goes ${far} in ${sayBeats(beats)}`,
        cost: hundredths(base * hurry),
        at: next.at,
      };
    });
  });
}

/** What was struck since the hand last left its place: there no finger had two keys. */
function inPlace(strikes: readonly Strike[]): readonly Strike[] {
  let from = strikes.length;
  for (let before = strikes[from - 1]; before; before = strikes[from - 1]) {
    if (wayOf(strikes.slice(from), before) > 0) break;
    from -= 1;
  }
  return strikes.slice(from);
}

const THIRD = 4;

/** The same keys again, or a line that goes on within a third on other fingers: the hand does not jump there. */
function isStep(last: Strike, next: Strike): boolean {
  const [one = '', ...others] = last.pitches;
  const [other = '', ...more] = next.pitches;
  if (last.pitches.join(' ') === next.pitches.join(' ')) return true;
  if (others.length > 0 || more.length > 0 || last.fingers[0] === next.fingers[0]) return false;
  return Math.abs(midiOf(one) - midiOf(other)) <= THIRD;
}

/**
 * How far a hand goes, in semitones: as far as the finger that goes furthest from where it lay in its place; none of
 * its fingers there, nothing where the hand reaches on in its place, else from the nearest key.
 */
function wayOf(before: readonly Strike[], next: Strike): number {
  const place = new Map<number, number>();
  for (const { pitches, fingers } of before)
    pitches.forEach((pitch, i) => {
      const finger = fingers[i] ?? 0;
      if (finger > 0) place.set(finger, midiOf(pitch));
    });
  const to = next.pitches.map((pitch, i) => ({ key: midiOf(pitch), finger: next.fingers[i] ?? 0 }));
  const gone = to.flatMap(({ key, finger }) => {
    const from = place.get(finger);
    return from === undefined ? [] : [Math.abs(key - from)];
  });
  if (gone.length > 0) return Math.max(...gone);
  const from = [...place].map(([finger, key]) => ({ key, finger }));
  // The left hand is the right hand in a mirror.
  const mirrored = ({ key, finger }: { key: number; finger: number }) => ({ key: -key, finger });
  const isInPlace = from.every((one) =>
    to.every((other) => one.key === other.key || canFollow(mirrored(one), mirrored(other))),
  );
  if (isInPlace || from.length === 0) return 0;
  return Math.min(...from.flatMap((one) => to.map((other) => Math.abs(other.key - one.key))));
}

/** The bar in which a hand strikes most often for its time; null where the tempo is not known. */
export function strikesItem(part: PlayedPart): PartDifficultyItem | null {
  const items = (['right', 'left'] as const).flatMap((hand) => {
    const strikes = strikesOf(part, hand);
    return part.score.bars.map((bar) => {
      const here = strikes.filter(({ at }) => at >= bar.at && at < bar.at + bar.length);
      const { seconds } = timeAt(part.score, bar.at, bar.length);
      if (bar.copyOf !== undefined || here.length === 0 || seconds === null) return null;
      const rate = here.length / seconds;
      const shown = here.slice(0, 4).map(({ pitches }) => sayPitches(pitches, saysIn(part.names)));
      const first = [...new Set(shown)].join(', ');
      return {
        what: 'strikes' as const,
        words: `the ${hand} hand strikes ${sayRate(rate)} in ${sayBar(part.score, bar.at)}: ${first}`,
        brief: `${sayBar(part.score, bar.at)}, the ${hand} hand strikes ${sayRate(rate)}`,
        cost: hundredths(rate * PART_WEIGHTS.strikes),
        at: bar.at,
      };
    });
  });
  return hardest(items);
}

const OCTAVE = 12;

/** The quickest change between the two notes of an octave in the left hand. */
export function octavesItem(part: PlayedPart): PartDifficultyItem | null {
  const strikes = strikesOf(part, 'left').filter(
    ({ at }) => barAt(part.score, at).copyOf === undefined,
  );
  const items = strikes.map((strike, i) => {
    const next = strikes[i + 1];
    const [one, other] = [strike.pitches[0], next?.pitches[0]];
    const isSingle = strike.pitches.length === 1 && next?.pitches.length === 1;
    if (!next || one === undefined || other === undefined || !isSingle) return null;
    if (Math.abs(midiOf(one) - midiOf(other)) !== OCTAVE) return null;
    const { seconds } = timeAt(part.score, strike.at, next.at - strike.at);
    const rate = seconds === null ? 1 : 1 / seconds;
    const often = seconds === null ? '' : `, ${sayRate(rate)}`;
    return {
      what: 'octaves in turn' as const,
      words: `${sayTogether([one, other], saysIn(part.names))} in turn in ${sayBar(part.score, strike.at)}${often}`,
      brief: `${sayBar(part.score, strike.at)}, octaves in turn${often}`,
      cost: hundredths(rate * PART_WEIGHTS.octaves),
      at: strike.at,
    };
  });
  return hardest(items);
}

/** More than these are not all named. */
const MOST_NAMED = 3;

export function shapesItem(
  { score, shapes, names }: PlayedPart,
  known: readonly KnownShape[],
): PartDifficultyItem | null {
  const says = saysIn(names);
  const fresh = shapes.filter((shape) => !isKnown(shape, known));
  const [first] = fresh;
  if (!first) return null;
  const named = fresh
    .slice(0, MOST_NAMED)
    .map(
      ({ chord, notes, at }) =>
        `${says.chord(chord)} (${sayPitches(notes, says)}) in ${sayBar(score, at)}`,
    );
  const more = fresh.length > MOST_NAMED ? [`${numberWord(fresh.length - MOST_NAMED)} more`] : [];
  const count = `${counted(fresh.length, 'shape', 'shapes')} not played here yet`;
  const chords = [...new Set(fresh.map(({ chord }) => says.chord(chord)))];
  const others = chords.length - MOST_NAMED;
  const brief = listed([
    ...chords.slice(0, MOST_NAMED),
    ...(others > 0 ? [`${numberWord(others)} more`] : []),
  ]);
  return {
    what: 'new shapes',
    words: `${count}: ${listed([...named, ...more])}`,
    // One chord can have several shapes.
    brief: `${count}${chords.length < fresh.length ? ' of' : ':'} ${brief}`,
    cost: hundredths(fresh.length * PART_WEIGHTS.shape),
    at: first.at,
  };
}
