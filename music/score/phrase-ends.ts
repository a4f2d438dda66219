import type { Score } from './score.ts';
import { barLength, isPickup, melodyOf, meterAt } from './time.ts';

/** A stop at the end of a syllable, quotation marks left out. */
export const PUNCTUATION = /[.,;:!?\u2014](?:["'\u2019\u201d)]*)$/u;

/** The pickup of the song, which an introduction may stand before: the short bar right before bar 1. */
function songPickup(score: Score): number {
  const index = score.bars.findIndex(({ number }) => number === 1) - 1;
  const before = score.bars[index];
  const full = before ? barLength(meterAt(score, before.at)) : null;
  return before && full !== null && isPickup(before) && before.length < full ? before.length : 0;
}

/**
 * For each bar, how strongly a phrase of the words ends with it, 0–1: the share of the verses whose last syllable
 * that begins a phrase's silence or long note carries a punctuation mark. A pickup's length before the bar line belongs
 * to the next phrase, as it does at the start of the song.
 */
export function phraseEnds(score: Score): number[] {
  const verses = score.verses.length;
  return endedVerses(score).map((ended) => {
    if (ended === 'all') return 1;
    return verses === 0 ? 0 : ended.filter(Boolean).length / verses;
  });
}

/** For each bar, which verses end a phrase with it as `phraseEnds` says; `all` where a section or a repeat ends. */
export function endedVerses(score: Score): (readonly boolean[] | 'all')[] {
  const melody = melodyOf(score);
  const pickup = songPickup(score);
  return score.bars.map((bar) => {
    const end = bar.at + bar.length;
    const sectionEnds = score.sections.some(
      ({ to }) => to > end - Math.max(pickup, 1) && to <= end,
    );
    if (sectionEnds || bar.repeatEnd) return 'all';
    const inside = melody.notes.filter(
      ({ at, pitches }) => at < end - pickup && at >= bar.at - bar.length && pitches.length > 0,
    );
    return score.verses.map((_, verse) => {
      const last = inside
        .map(({ syllables }) => syllables?.[verse])
        .findLast((syllable) => syllable);
      return last !== undefined && last !== null && PUNCTUATION.test(last.text);
    });
  });
}
