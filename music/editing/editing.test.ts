import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyEdit } from '#test/support/arbitrary-edit.ts';
import { anyScore } from '#test/support/arbitrary-score.ts';
import { check } from '../score/check-score.ts';
import type { Score } from '../score/score.ts';
import { endOf } from '../score/time.ts';
import { apply, type Edit } from './editing.ts';

const LENGTHENS: readonly Edit['do'][] = ['insert bars', 'remove bars', 'pickup', 'meter', 'give time']; // prettier-ignore
const several = fc.gen();

function edited(score: Score, edit: Edit): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

describe('any edit of any song', () => {
  it('is refused with a sentence, or leaves a song that holds together; the song itself stays', () => {
    fc.assert(
      fc.property(anyScore, several, (first, draw) => {
        let score = first;
        for (let count = 0; count < 6; count += 1) {
          const edit = draw(anyEdit, score);
          const before = JSON.stringify(score);
          const result = apply(score, edit);
          expect(JSON.stringify(score)).toBe(before);
          if (!result.ok) {
            expect(result.problems[0]?.message).toMatch(/^[\p{Lu}"“].*\.$/su);
            continue;
          }
          expect(check(result.value)).toEqual([]);
          if (!LENGTHENS.includes(edit.do)) expect(endOf(result.value)).toBe(endOf(score));
          score = result.value;
        }
      }),
      { numRuns: 400 },
    );
  });
});

describe('what is done and taken back', () => {
  it('bars put in and taken out again leave the song as it was', () => {
    const bars = fc.tuple(anyScore, fc.nat(9), fc.integer({ min: 1, max: 3 }));
    fc.assert(
      fc.property(bars, ([score, place, count]) => {
        const bar = place % (score.bars.length + 1);
        const result = apply(score, { do: 'insert bars', bar, count });
        fc.pre(result.ok);
        const back = edited(result.value, { do: 'remove bars', from: bar, to: bar + count });
        expect(back).toEqual(score);
      }),
      { numRuns: 300 },
    );
  });
});
