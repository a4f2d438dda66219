import { endedVerses } from '../../score/phrase-ends.ts';
import type { Bar, Score, Section, Ticks } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import { phraseEndsOf } from './fill-places.ts';

/**
 * The moments at which a phrase of the tune begins, in order: where a section does, and where the tune goes on after the last
 * note of a phrase (`phraseEndsOf`), by the words of all verses that are on the page. They are the same in every copy of a
 * bar, in the introduction too.
 */
export function phraseStarts(score: Score): Ticks[] {
  const { bars, sections } = score;
  const places = new Set(
    phraseEndsOf(score, shareOfVerses(score)).flatMap(({ next }) => {
      const bar = bars.findLast(({ at }) => at <= next);
      return bar ? [`${sourceOf(bar)}+${next - bar.at}`] : [];
    }),
  );
  const inside = bars.flatMap((bar) =>
    [...places].flatMap((place) => {
      const [source, after = ''] = place.split('+');
      return source === `${sourceOf(bar)}` && Number(after) < bar.length ? [bar.at + Number(after)] : []; // prettier-ignore
    }),
  );
  const starts = new Set([...sections.map(({ from }) => from), ...inside]);
  return [...starts].sort((a, b) => a - b);
}

const sourceOf = ({ number, copyOf }: Bar): number => copyOf ?? number;

/**
 * For each bar the share of the verses that end a phrase with it, over all copies of the bar. Under a copy the words of one
 * verse may stand for those of others, so each text counts once.
 */
function shareOfVerses(score: Score): number[] {
  const { bars, sections } = score;
  const texts = new Map(sections.map((section) => [section, textsOf(score, section)]));
  const bySource = new Map<number, Map<string, boolean>>();
  const ended = endedVerses(score);
  bars.forEach((bar, i) => {
    const section = sections.find(({ from, to }) => bar.at >= from && bar.at < to);
    const own = bySource.get(sourceOf(bar)) ?? new Map<string, boolean>();
    bySource.set(sourceOf(bar), own);
    const here = ended[i];
    if (!section || here === undefined || here === 'all') return;
    (texts.get(section) ?? []).forEach((text, verse) => {
      if (text !== '') own.set(text, here[verse] ?? false);
    });
  });
  return bars.map((bar, i) => {
    if (ended[i] === 'all') return 1;
    const all = [...(bySource.get(sourceOf(bar))?.values() ?? [])];
    return all.length === 0 ? 0 : all.filter(Boolean).length / all.length;
  });
}

/** What is sung in a section, verse by verse. */
function textsOf(score: Score, { from, to }: Section): string[] {
  const notes = melodyOf(score).notes.filter(({ at }) => at >= from && at < to);
  return score.verses.map((_, verse) =>
    notes
      .map(({ syllables }) => syllables?.[verse]?.text ?? '')
      .join(' ')
      .trim(),
  );
}
