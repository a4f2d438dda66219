import { ENGLISH, type Says } from '../pitch/says.ts';
import { inCount, of as countIn } from '../score/count-in.ts';
import type { Score, Ticks } from '../score/score.ts';
import { barAt, barLength, countedBeat, isPickup, melodyOf, meterAt } from '../score/time.ts';

/** How a part is started. */
export interface PartCount {
  /** `count 1 2 3 | 1 2 (sing)`; with an introduction, which begins on a bar line, `count 1 2 3 | (play)`. */
  readonly words: string;
  /** Where the singers enter at the end of the introduction; empty without one. */
  readonly entry: string;
}

/**
 * The count before a song, or before its introduction: then one full bar leads into it (common practice), and the
 * singers are told where they enter.
 * @param song without the introduction; `whole` with it, whose first `length` ticks it is
 */
export function countOf(song: Score, whole: Score, length: Ticks, says: Says = ENGLISH): PartCount {
  const { words, counts } = countIn(song, song.tempo, says);
  if (length === 0) return { words: counts.length > 0 ? `count ${words}` : words, entry: '' };
  const meter = meterAt(whole, 0);
  const full = barLength(meter);
  const sung = melodyOf(whole).notes.find(({ pitches }) => pitches.length > 0);
  if (full === null || counts.length === 0)
    return {
      words: 'breathe together and begin the introduction',
      entry: sung ? 'sing when the introduction is over' : '',
    };
  const beat = countedBeat(meter, song.tempo);
  return {
    words: `count ${upTo(full / beat)} | (play)`,
    entry: sung ? sayEntry(whole, sung.at, length) : '',
  };
}

const upTo = (count: number) => Array.from({ length: count }, (_, i) => i + 1).join(' ');

/** `sing after 1 2, on beat 3 of the introduction’s last bar`. */
function sayEntry(whole: Score, at: Ticks, length: Ticks): string {
  const bar = barAt(whole, at);
  const last = barAt(whole, length - 1);
  const meter = meterAt(whole, bar.at);
  const beat = countedBeat(meter, whole.tempo);
  const missing = isPickup(bar) ? Math.max(0, (barLength(meter) ?? 0) - bar.length) : 0;
  const { spoken, words } = inCount(missing + at - bar.at, beat, meter);
  // A pickup fills the introduction's last bar where that is cut short for it; else it comes after that bar.
  if (missing > 0 && last.length <= missing)
    return `sing after ${spoken}, on ${words} of the introduction’s last bar`;
  const where = missing > 0 ? 'the bar before bar 1' : `bar ${bar.number}`;
  return `sing after the introduction’s last bar, on ${words} of ${where}`;
}
