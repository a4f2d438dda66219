import { tonesOf } from '../pitch/chord-symbol.ts';
import { scaleOf } from '../pitch/key.ts';
import { pitchClassOf, type NoteName } from '../pitch/pitch.ts';
import { phraseEnds } from '../score/phrase-ends.ts';
import type { Score } from '../score/score.ts';
import { barLength, isPickup, keyAt, meterAt } from '../score/time.ts';
import { isCutAt, sectionAt } from './bass-song.ts';
import type { PlayedChord } from './played-chords.ts';

/** The bass note under each chord, and whether it is the one before it that stays. */
export interface Footing {
  readonly note: NoteName;
  readonly stays: boolean;
}

/** More chords than this over one note ask for a person who decides it (ours). */
const MOST_CHORDS = 4;

interface Run {
  readonly note: NoteName;
  readonly chords: number;
}

/** What a chord says is under it: its written bass, else its root. */
export const bassOf = ({ chord }: PlayedChord): NoteName => chord.bass ?? chord.root;

/**
 * The note under each chord, one held through two to four chords where that can be. Common practice of the pedal point,
 * kept strict: every chord contains the note, or has it as its written bass, so nothing rubs. A tonic is held only from a
 * chord that stands on it. A dominant is held only into a chord that stands on it, and the tonic follows. The chords with
 * which a section begins, and with which a phrase, a section or a repeat ends, stand on their own bass note.
 * Of all choices the one in which the bass changes least; of equal ones the earlier and longer, the tonic first.
 * @param canHold by index: whether the bass holds notes there at all
 */
export function heldUnder(
  score: Score,
  chords: readonly PlayedChord[],
  canHold: (chord: number) => boolean,
): Footing[] {
  const closing = closingChords(score, chords);
  // How many changes are saved from each chord on, and by which run.
  const saved: number[] = new Array<number>(chords.length + 1).fill(0);
  const first: (Run | null)[] = [];
  for (let from = chords.length - 1; from >= 0; from -= 1) {
    let [best, chosen]: [number, Run | null] = [saved[from + 1] ?? 0, null];
    for (const run of runsFrom(score, chords, from, canHold, closing)) {
      const here = run.chords - 1 + (saved[from + run.chords] ?? 0);
      if (here > best || (here === best && chosen === null)) [best, chosen] = [here, run];
    }
    saved[from] = best;
    first[from] = chosen;
  }
  const footings: Footing[] = [];
  while (footings.length < chords.length) {
    const from = footings.length;
    const run = first[from];
    if (!run) footings.push({ note: bassOf(chords[from] as PlayedChord), stays: false });
    else for (let i = 0; i < run.chords; i += 1) footings.push({ note: run.note, stays: i > 0 });
  }
  return footings;
}

/** Indexes of the chords with which a phrase of the words ends, in half of the verses or more. */
export function closingChords(score: Score, chords: readonly PlayedChord[]): Set<number> {
  const pickup = score.bars.find(isPickup)?.length ?? 0;
  const strengths = phraseEnds(score);
  const closing = new Set<number>();
  score.bars.forEach((bar, i) => {
    // Without a meter a bar is a line of the words.
    const isFree = barLength(meterAt(score, bar.at)) === null;
    if (!isFree && (strengths[i] ?? 0) < 0.5) return;
    const end = bar.at + bar.length;
    // What begins in the length of a pickup before the bar line belongs to the next phrase.
    for (const at of [end - 1, end - pickup - 1])
      closing.add(chords.findIndex((each) => each.at <= at && at < each.at + each.length));
  });
  return closing;
}

/**
 * Every run that may begin at a chord, the longer first, the tonic before the dominant.
 * @param closing indexes of chords that stand on their own bass note
 */
export function runsFrom(
  score: Score,
  chords: readonly PlayedChord[],
  from: number,
  canHold: (chord: number) => boolean,
  closing: ReadonlySet<number>,
): Run[] {
  const start = chords[from];
  if (!start) return [];
  const [tonic, , , , dominant] = scaleOf(keyAt(score, start.at).key);
  const runs: Run[] = [];
  for (const [place, note] of [tonic, dominant].entries()) {
    if (note === undefined) continue;
    for (let count = 1; count <= MOST_CHORDS; count += 1) {
      const chord = chords[from + count - 1];
      if (!chord || !canHold(from + count - 1) || !contains(chord, note)) break;
      if (count > 1 && !follows(score, chords[from + count - 2] as PlayedChord, chord)) break;
      if (closing.has(from + count - 1) && !same(bassOf(chord), note)) break;
      if (count > 1 && isAllowed(score, chords, from, count, note, place === 0))
        runs.push({ note, chords: count });
    }
  }
  return runs.sort((a, b) => b.chords - a.chords);
}

const same = (a: NoteName, b: NoteName): boolean => pitchClassOf(a) === pitchClassOf(b);

function contains({ chord }: PlayedChord, note: NoteName): boolean {
  return chord.bass === null
    ? tonesOf(chord).some((tone) => same(tone, note))
    : same(chord.bass, note);
}

/** Whether one chord is followed by another wherever it is played, in the same key. */
function follows(score: Score, before: PlayedChord, after: PlayedChord): boolean {
  return (
    before.at + before.length === after.at &&
    !isCutAt(score, after.at) &&
    keyAt(score, before.at) === keyAt(score, after.at)
  );
}

function isAllowed(
  score: Score,
  chords: readonly PlayedChord[],
  from: number,
  count: number,
  note: NoteName,
  isTonic: boolean,
): boolean {
  const [start, last] = [chords[from], chords[from + count - 1]] as [PlayedChord, PlayedChord];
  const next = chords[from + count];
  const ownAt = (entry: PlayedChord) => same(bassOf(entry), note);
  const end = sectionAt(score, last.at)?.to ?? 0;
  const ends = last.at + last.length;
  const isLast = ends >= end || next === undefined || isCutAt(score, ends);
  if (isTonic) return ownAt(start) && (ownAt(last) || !isLast);
  if (!ownAt(last) || !next || !follows(score, last, next)) return false;
  const { tonic } = keyAt(score, next.at).key;
  const opens = sectionAt(score, start.at)?.from === start.at || isCutAt(score, start.at);
  return same(bassOf(next), tonic) && (ownAt(start) || !opens);
}
