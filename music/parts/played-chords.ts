import { sameChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import type { ChordAt, Score, Span } from '../score/score.ts';
import { INTRODUCTION } from './introduction.ts';

/** A chord that is played, however many bars it lasts. */
export type PlayedChord = ChordAt & { readonly chord: Chord };

/**
 * A chord as a first rung plays it: over its root, unless a person wrote another bass. A bass that was found in the
 * voices is left to who plays it there.
 */
function asPlayed({ chord, guess }: ChordAt): Chord | null {
  if (!chord || chord.kind === 'none') return null;
  return guess && chord.bass !== null ? { ...chord, bass: null } : chord;
}

/**
 * The chords that are played, joined where one lasts, cut out of the pickup before bar 1: the singers sing it alone
 * (common practice: the first chord falls on beat one, on the stressed word).
 */
export function playedChords(score: Score): PlayedChord[] {
  const silent = silentBar(score);
  const section = (at: number) => score.sections.find(({ from, to }) => at >= from && at < to);
  const played: PlayedChord[] = [];
  for (const entry of score.chords) {
    const chord = asPlayed(entry);
    if (!chord) continue;
    for (const span of without(entry, silent)) {
      const before = played.at(-1);
      const lasts =
        before !== undefined &&
        before.at + before.length === span.from &&
        sameChord(before.chord, chord) &&
        (section(before.at)?.id === INTRODUCTION) === (section(span.from)?.id === INTRODUCTION);
      if (lasts) played[played.length - 1] = { ...before, length: span.to - before.at };
      else played.push({ ...entry, chord, at: span.from, length: span.to - span.from });
    }
  }
  return played;
}

/** The pickup: the bar without a number right before bar 1, where it is not the last bar of an introduction. */
function silentBar(score: Score): Span | null {
  const first = score.bars.findIndex(({ number }) => number === 1);
  const bar = score.bars[first - 1];
  const introduction = score.sections.find(({ id }) => id === INTRODUCTION);
  if (!bar || (introduction && bar.at < introduction.to)) return null;
  return { from: bar.at, to: bar.at + bar.length };
}

function without({ at, length }: ChordAt, hole: Span | null): Span[] {
  const to = at + length;
  if (!hole || hole.to <= at || hole.from >= to) return [{ from: at, to }];
  return [
    { from: at, to: hole.from },
    { from: hole.to, to },
  ].filter((span) => span.to > span.from);
}

/** What a part without any chord says instead. */
export const noChords = (score: Score) => ({
  code: 'no-chords',
  message: `“${score.facts.title}” has no chords, and none can be found in its voices: write the chords over its words first.`,
});
