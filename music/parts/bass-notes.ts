import type { PitchName } from '../pitch/pitch.ts';
import type { Note, Score, Section, Span, Ticks } from '../score/score.ts';
import { barLength, feltBeat, isPickup, isSecondHalf, meterAt } from '../score/time.ts';
import type { Texture } from './arrangement.ts';
import type { PlayedChord } from './played-chords.ts';

/** One bass note under its chord, from where to where. */
export interface HeldBass extends Span {
  readonly pitch: PitchName;
  readonly entry: PlayedChord;
}

/**
 * Where a bar is struck again whatever the chord does: on its bar line; leading, also on its last felt beat; on every
 * felt beat. The beats of a short bar are counted as if it were full. Without a meter only the bar line is left.
 */
export function strikesIn(score: Score, index: number, textureAt: (at: Ticks) => Texture): Ticks[] {
  const bar = score.bars[index];
  if (!bar) return [];
  const meter = meterAt(score, bar.at);
  const full = barLength(meter);
  const strikes = [bar.at];
  if (full === null) return strikes;
  const beat = feltBeat(meter);
  const half = isSecondHalf(score, index) ? (score.bars[index - 1]?.length ?? 0) : 0;
  const missing = half + (isPickup(bar) ? Math.max(0, full - bar.length) : 0);
  const length = Math.max(full, missing + bar.length);
  for (let beats = 1; beats * beat < length; beats += 1) {
    const at = bar.at + beats * beat - missing;
    if (at <= bar.at || at >= bar.at + bar.length) continue;
    const texture = textureAt(at);
    const isLast = (beats + 1) * beat >= length;
    if (texture === 'every beat' || (texture === 'leading' && isLast)) strikes.push(at);
  }
  return strikes;
}

/**
 * The notes of a bass: each chord's note is struck where the chord begins and where its bar is struck again, and lasts
 * until it is struck next; rests fill what is left, bar by bar.
 * @param held in order, not overlapping
 */
export function bassNotes(
  score: Score,
  held: readonly HeldBass[],
  textureAt: (at: Ticks) => Texture,
): Note[] {
  const notes: Note[] = [];
  score.bars.forEach((bar, index) => {
    const end = bar.at + bar.length;
    const strikes = strikesIn(score, index, textureAt);
    let at = bar.at;
    const rest = (to: Ticks) => {
      if (to > at) notes.push({ at, length: to - at, pitches: [] });
      at = Math.max(at, to);
    };
    for (const { from, to, pitch } of held) {
      if (to <= bar.at || from >= end) continue;
      rest(Math.max(from, bar.at));
      const until = Math.min(to, end);
      const starts = [at, ...strikes.filter((each) => each > at && each < until)];
      starts.forEach((start, i) => {
        notes.push({ at: start, length: (starts[i + 1] ?? until) - start, pitches: [pitch] });
      });
      at = until;
    }
    rest(end);
  });
  return notes;
}

/** Chords cut where a section begins: it may be reached from elsewhere, and says its chord itself. */
export function inSections(
  chords: readonly PlayedChord[],
  sections: readonly Section[],
): PlayedChord[] {
  return chords.flatMap((chord) => {
    const end = chord.at + chord.length;
    const starts = sections.map(({ from }) => from).filter((at) => at > chord.at && at < end);
    return [chord.at, ...starts].map((at, i): PlayedChord => ({
      ...chord,
      at,
      length: (starts[i] ?? end) - at,
    }));
  });
}
