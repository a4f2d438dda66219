import type { Chord } from '../../pitch/chord.ts';
import type { ChordAt, Score, Ticks } from '../score.ts';
import { barAt, endOf } from '../time.ts';
import type { Fixed } from './problem.ts';

/** The chords of a score that a person (or its source) wrote: those without a guess. */
export function writtenChords(score: Score): Fixed[] {
  return score.chords
    .filter((each) => each.guess === undefined)
    .map(({ at, length, chord }) => ({ from: at, to: at + length, chord }));
}

/**
 * A person's chord from a moment on: to the end of the chord that stands there, or where none does to the next chord
 * or the end of the bar. What a chord begun earlier loses is its end. Throws on a moment outside the score.
 */
export function correct(score: Score, at: Ticks, chord: Chord | null): Score {
  if (!Number.isInteger(at) || at < 0 || at >= endOf(score)) {
    throw new RangeError(`no music at ${at}`);
  }
  const there = score.chords.find((each) => each.at <= at && at < each.at + each.length);
  const next = score.chords.find((each) => each.at > at)?.at ?? Infinity;
  const bar = barAt(score, at);
  const end = there ? there.at + there.length : Math.min(next, bar.at + bar.length);
  const chords = score.chords.flatMap((each): ChordAt[] => {
    if (each !== there) return [each];
    return each.at < at ? [{ ...each, length: at - each.at }] : [];
  });
  const mine: ChordAt = { at, length: end - at, chord };
  return { ...score, chords: [...chords, mine].sort((a, b) => a.at - b.at) };
}

/** Takes a person's chord back; the next reading guesses there again. The same score where none stands there. */
export function uncorrect(score: Score, at: Ticks): Score {
  const chords = score.chords.filter(
    (each) => each.guess !== undefined || at < each.at || at >= each.at + each.length,
  );
  return chords.length === score.chords.length ? score : { ...score, chords };
}
