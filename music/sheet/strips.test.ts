import { describe, expect, it } from 'vitest';
import type { PartShape } from '../parts/part.ts';
import { stripsOf } from './strips.ts';

const shape = (at: number): PartShape => ({
  chord: { root: 'C', kind: 'major', degrees: [], bass: null },
  at,
  notes: [],
  fingers: [],
  left: { notes: [], fingers: [] },
  words: '',
});
/** Four systems of 4 beats. */
const SYSTEMS = [0, 4, 8, 12].map((from) => ({ from, to: from + 4 }));
const strips = (...at: number[]) =>
  stripsOf(at.map(shape), SYSTEMS).map((strip) => strip.map((each) => each.at));

describe('Hand pictures', () => {
  it('stand all above the first system, where there are at most eight', () => {
    expect(strips(0, 2, 5, 14)).toEqual([[0, 2, 5, 14], [], [], []]);
    expect(strips(0, 1, 2, 3, 4, 8, 9, 15)[0]).toHaveLength(8);
  });

  it('of more than eight stand above the first page and then where each first appears', () => {
    expect(strips(0, 1, 2, 4, 5, 6, 9, 10, 13)).toEqual([[0, 1, 2, 4, 5, 6], [], [9, 10], [13]]);
  });

  it('are none without shapes', () => {
    expect(strips()).toEqual([[], [], [], []]);
  });
});
