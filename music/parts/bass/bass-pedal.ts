import { tonesOf } from '../../pitch/chord-symbol.ts';
import { scaleOf } from '../../pitch/key.ts';
import { pitchClassOf, type NoteName } from '../../pitch/pitch.ts';
import { phraseEnds } from '../../score/phrase-ends.ts';
import type { Score } from '../../score/score.ts';
import { barLength, isPickup, keyAt, meterAt } from '../../score/time.ts';
import { isCutAt } from './bass-song.ts';
import type { PlayedChord } from '../played-chords.ts';

/** The bass note under each chord. */
export interface Footing {
  readonly note: NoteName;
  /** The dominant that is held into a cadence is under it. */
  readonly pedal: boolean;
  /** It is the note before it that stays. */
  readonly stays: boolean;
}

/** What a chord says is under it: its written bass, else its root. */
export const bassOf = ({ chord }: PlayedChord): NoteName => chord.bass ?? chord.root;

/**
 * The note under each chord: its own, but for the dominant of a cadence, which may come before its own chord (common
 * practice of the pedal point and of the cadential fourth and sixth, kept strict). It is held through the chords right
 * before that one, as many as can be: each contains it and has no other bass written, begins no section, ends no phrase,
 * and together they are no longer than a bar or the dominant's own chord. The tonic follows, and ends a phrase or a section.
 * @param canHold by index: whether the bass may hold the dominant there, under its own chord or before it
 */
export function heldUnder(
  score: Score,
  chords: readonly PlayedChord[],
  canHold: (chord: number, note: NoteName, isDominant: boolean) => boolean,
): Footing[] {
  const closing = closingChords(score, chords);
  const footings = chords.map((chord): Footing => ({
    note: bassOf(chord),
    pedal: false,
    stays: false,
  }));
  chords.forEach((entry, at) => {
    if (!isCadence(score, chords, at, closing)) return;
    const note = bassOf(entry);
    const bar = barLength(meterAt(score, entry.at)) ?? 0;
    let [from, room] = [at, Math.max(entry.length, bar)];
    for (;;) {
      const before = chords[from - 1];
      if (
        !before ||
        before.length > room ||
        !canHold(from - 1, note, false) ||
        closing.has(from - 1)
      )
        break;
      if (!follows(score, before, chords[from] as PlayedChord)) break;
      if (!contains(before, note) || same(bassOf(before), note)) break;
      if (isCutAt(score, before.at)) break;
      room -= before.length;
      from -= 1;
    }
    if (from === at || !canHold(at, note, true)) return;
    for (let i = from; i <= at; i += 1) footings[i] = { note, pedal: true, stays: i > from };
  });
  return footings;
}

/** Indexes of the chords with which a phrase of the words ends, in half of the verses or more. */
function closingChords(score: Score, chords: readonly PlayedChord[]): Set<number> {
  const pickup = score.bars.find(isPickup)?.length ?? 0;
  const strengths = phraseEnds(score);
  const closing = new Set<number>();
  score.bars.forEach((bar, i) => {
    // Without a meter a bar is a line of the words.
    const isFree = barLength(meterAt(score, bar.at)) === null;
    if (!isFree && (strengths[i] ?? 0) < 0.5) return;
    const end = bar.at + bar.length;
    // What begins in the length of a pickup before the bar line belongs to the next phrase.
    const at = end - pickup - 1;
    closing.add(chords.findIndex((each) => each.at <= at && at < each.at + each.length));
  });
  return closing;
}

const same = (a: NoteName, b: NoteName): boolean => pitchClassOf(a) === pitchClassOf(b);

function contains({ chord }: PlayedChord, note: NoteName): boolean {
  return chord.bass === null && tonesOf(chord).some((tone) => same(tone, note));
}

/** Whether one chord is followed by another wherever it is played, in the same key. */
function follows(score: Score, before: PlayedChord, after: PlayedChord): boolean {
  return (
    before.at + before.length === after.at &&
    !isCutAt(score, after.at) &&
    keyAt(score, before.at) === keyAt(score, after.at)
  );
}

/** Whether a chord stands on the dominant and goes on to a tonic that ends a phrase or a section. */
function isCadence(
  score: Score,
  chords: readonly PlayedChord[],
  index: number,
  closing: ReadonlySet<number>,
): boolean {
  const [here, next] = [chords[index], chords[index + 1]];
  if (!here || !next || !follows(score, here, next)) return false;
  const { key } = keyAt(score, here.at);
  const dominant = scaleOf(key)[4];
  if (dominant === undefined || !same(bassOf(here), dominant) || !same(bassOf(next), key.tonic))
    return false;
  return closing.has(index + 1) || isCutAt(score, next.at + next.length);
}
