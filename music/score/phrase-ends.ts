import type { Score } from './score.ts';
import { barLength, isPickup, melodyOf, meterAt } from './time.ts';

const PUNCTUATION = /[.,;:!?\u2014](?:["'\u2019\u201d)]*)$/u;

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
  const melody = melodyOf(score);
  const verses = score.verses.length;
  const pickup = songPickup(score);
  return score.bars.map((bar) => {
    const end = bar.at + bar.length;
    const sectionEnds = score.sections.some(
      ({ to }) => to > end - Math.max(pickup, 1) && to <= end,
    );
    if (sectionEnds || bar.repeatEnd) return 1;
    if (verses === 0) return 0;
    const inside = melody.notes.filter(
      ({ at, pitches }) => at < end - pickup && at >= bar.at - bar.length && pitches.length > 0,
    );
    let ended = 0;
    for (let verse = 0; verse < verses; verse++) {
      const last = inside
        .map(({ syllables }) => syllables?.[verse])
        .findLast((syllable) => syllable);
      if (last && PUNCTUATION.test(last.text)) ended++;
    }
    return ended / verses;
  });
}
