import { sameChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import type { ChordAt, Score, Span } from '../score/score.ts';
import { isPickup } from '../score/time.ts';
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
 * The chords of a song as everybody plays them, so that no two sheets disagree: those that were found over their roots,
 * and one that lasts through a section named once. What a person wrote stays as it is.
 */
export function overRoots(score: Score): ChordAt[] {
  const starts = new Set(score.sections.map(({ from }) => from));
  const joined: ChordAt[] = [];
  for (const entry of score.chords) {
    const chord = asPlayed(entry);
    const each = entry.guess && chord ? { ...entry, chord } : entry;
    const before = joined.at(-1);
    const lasts =
      before?.guess !== undefined &&
      each.guess !== undefined &&
      before.chord !== null &&
      each.chord !== null &&
      before.at + before.length === each.at &&
      !starts.has(each.at) &&
      sameChord(before.chord, each.chord);
    if (lasts) joined[joined.length - 1] = { ...before, length: before.length + each.length };
    else joined.push(each);
  }
  return joined;
}

/**
 * The chords that are played, joined where one lasts, cut out of the pickup before bar 1: the singers sing it alone
 * (common practice: the first chord falls on beat one, on the stressed word).
 */
export function playedChords(score: Score): PlayedChord[] {
  const silent = silentBars(score);
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

/** The pickups: bars without a number right before bar 1, also where a verse is written out again. */
function silentBars({ bars }: Score): Span[] {
  return bars
    .filter((bar, i) => isPickup(bar) && bars[i + 1]?.number === 1)
    .map(({ at, length }) => ({ from: at, to: at + length }));
}

function without({ at, length }: ChordAt, holes: readonly Span[]): Span[] {
  let left: Span[] = [{ from: at, to: at + length }];
  for (const hole of holes) {
    left = left.flatMap(({ from, to }) =>
      hole.to <= from || hole.from >= to
        ? [{ from, to }]
        : [
            { from, to: hole.from },
            { from: hole.to, to },
          ].filter((span) => span.to > span.from),
    );
  }
  return left;
}

/** What a part without any chord says instead. */
export const noChords = (score: Score) => ({
  code: 'no-chords',
  message: `“${score.facts.title}” has no chords, and none can be found in its voices: write the chords over its words first.`,
});
