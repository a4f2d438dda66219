import { sameChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { roundPickups } from '../score/pickup-chords.ts';
import type { ChordAt, Score } from '../score/score.ts';
import { INTRODUCTION } from './form/introduction.ts';
import { isLink } from './link/link.ts';

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
 * The chords of a song as everybody plays them, so that no two sheets disagree: those that were found over their roots
 * and outside the pickup, and one that lasts through a section named once. What a person wrote stays as it is.
 */
export function overRoots(score: Score): ChordAt[] {
  const starts = new Set(score.sections.map(({ from }) => from));
  const joined: ChordAt[] = [];
  for (const entry of roundPickups(score)) {
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

/** The chords that are played, joined where one lasts: round the pickup before bar 1 as `roundPickups` has them. */
export function playedChords(score: Score): PlayedChord[] {
  const section = (at: number) => score.sections.find(({ from, to }) => at >= from && at < to);
  /** What is played before the song and after it stands by itself, and so do its chords. */
  const outside = (at: number): string => {
    const here = section(at);
    return here && (here.id === INTRODUCTION || isLink(here)) ? here.id : '';
  };
  const played: PlayedChord[] = [];
  for (const entry of roundPickups(score)) {
    const chord = asPlayed(entry);
    if (!chord) continue;
    const before = played.at(-1);
    const lasts =
      before !== undefined &&
      before.at + before.length === entry.at &&
      sameChord(before.chord, chord) &&
      outside(before.at) === outside(entry.at);
    if (lasts) played[played.length - 1] = { ...before, length: before.length + entry.length };
    else played.push({ ...entry, chord });
  }
  return played;
}

/** What a part without any chord says instead. */
export const noChords = (score: Score) => ({
  code: 'no-chords',
  message: `“${score.facts.title}” has no chords, and none can be found in its voices: write the chords over its words first.`,
});
