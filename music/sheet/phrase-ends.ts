import type { Score } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';

const PUNCTUATION = /[.,;:!?\u2014](?:["'\u2019\u201d)]*)$/u;

/**
 * For each bar, how strongly a phrase of the words ends with it, 0–1: the share of the verses whose last syllable
 * that begins a phrase's silence or long note carries a punctuation mark. A pickup's length before the bar line belongs
 * to the next phrase, as it does at the start of the song.
 */
export function phraseEnds(score: Score): number[] {
  const melody = melodyOf(score);
  const verses = score.verses.length;
  const pickup = score.bars[0]?.number === 0 ? score.bars[0].length : 0;
  const sectionEnds = new Set(score.sections.map(({ to }) => to));
  return score.bars.map((bar) => {
    const end = bar.at + bar.length;
    if (sectionEnds.has(end) || bar.repeatEnd) return 1;
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
