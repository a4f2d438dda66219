import type { Shape } from '../../hand/shape.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { barAt } from '../../score/time.ts';
import { sayBarList } from '../bar-list.ts';
import { INTRODUCTION } from '../form/introduction.ts';
import type { HandRemark } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';
import { sungAt } from './right-tune.ts';

/**
 * For each section on the upper rungs the bars in which a chord has not on top what is sung as it begins. A section that
 * stands on the page again in another texture says it once.
 */
export function withoutTheTune(
  { score, chords, rungsAt }: KeysSong,
  held: readonly Shape[],
): HandRemark[] {
  const said = new Set<string>();
  return score.sections.flatMap(({ id, from, to }): HandRemark[] => {
    if (id === INTRODUCTION) return [];
    const bars = chords.flatMap(({ at }, i) => {
      if (at < from || at >= to || rungsAt(at).right < 3) return [];
      const [sung, top] = [sungAt(score, at), held[i]?.notes.at(-1)];
      if (sung === null || top === undefined) return [];
      return midiOf(sung) % 12 === midiOf(top) % 12 ? [] : [barAt(score, at)];
    });
    if (bars.length === 0) return [];
    const words = `the tune is not on top in ${sayBarList(bars)}: no shape within reach has the note that is sung as the chord begins`;
    if (said.has(words)) return [];
    said.add(words);
    return [{ at: from, words }];
  });
}
