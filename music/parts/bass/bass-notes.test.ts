import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { QUARTER } from '../../score/score.ts';
import type { Texture } from '../arrangement.ts';
import { strikesIn } from './bass-notes.ts';

/** Where a bar is struck, in eighths from its beginning. */
function strikes(meter: string, music: string, texture: Texture, bar: number): number[] {
  const score = songOf(music, [], `M:${meter}\nL:1/8`);
  return strikesIn(score, bar, () => texture).map(
    (at) => (at - (score.bars[bar]?.at ?? 0)) / (QUARTER / 2),
  );
}

describe('where a bar is struck again', () => {
  it.each([
    ['4/4', 'C8|C8|]', [0], [0, 6], [0, 2, 4, 6]],
    ['3/4', 'C6|C6|]', [0], [0, 4], [0, 2, 4]],
    // 6/8 is felt in two, 9/8 in three, 2/2 in halves (common practice); in two, leading on the whole second beat would be
    // every beat, so its last part leads (ours, as at the keys).
    ['2/4', 'C4|C4|]', [0], [0, 3], [0, 2]],
    ['6/8', 'C6|C6|]', [0], [0, 5], [0, 3]],
    ['9/8', 'C9|C9|]', [0], [0, 6], [0, 3, 6]],
    ['2/2', 'C8|C8|]', [0], [0, 6], [0, 4]],
    ['none', 'C8|C8|]', [0], [0], [0]],
  ] as const)('%s: %s held %j, leading %j, every beat %j', (meter, music, held, leading, every) => {
    expect(strikes(meter, music, 'held', 1)).toEqual(held);
    expect(strikes(meter, music, 'leading', 1)).toEqual(leading);
    expect(strikes(meter, music, 'every beat', 1)).toEqual(every);
  });

  it('counts a pickup as the end of its bar, and a last bar cut short for it as the beginning', () => {
    const music = 'C2|C8|C6|]';
    expect(strikes('4/4', music, 'leading', 0)).toEqual([0]);
    expect(strikes('4/4', music, 'every beat', 0)).toEqual([0]);
    expect(strikes('4/4', music, 'leading', 2)).toEqual([0]);
    expect(strikes('4/4', music, 'every beat', 2)).toEqual([0, 2, 4]);
    // Three eighths of pickup in 4/4: the last beat begins one eighth in.
    expect(strikes('4/4', 'C3|C8|C5|]', 'every beat', 0)).toEqual([0, 1]);
  });
});
