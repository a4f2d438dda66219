import type { Tempo } from '../score.ts';

/** How one tempo goes over into another. */
export interface TempoBridge {
  /** Old counted beats to new ones that last as long; null: no simple ratio, or a tempo is not known. */
  readonly ratio: readonly [number, number] | null;
  /** `three of the old beats last as long as four of the new`. Empty where a tempo is not known. */
  readonly words: string;
}

/** A beat that is a twenty-fifth longer or shorter is felt as the same (ours). */
const SAME = 1 / 25;
const RATIOS: readonly (readonly [number, number])[] = [
  [1, 1],
  [1, 2],
  [2, 1],
  [2, 3],
  [3, 2],
  [3, 4],
  [4, 3],
  [1, 3],
  [3, 1],
];
const NUMBERS = ['', 'one', 'two', 'three', 'four'] as const;

export function bridge(from: Tempo | null, to: Tempo | null): TempoBridge {
  if (!from || !to) return { ratio: null, words: '' };
  const found = RATIOS.find(([old, now]) => {
    const apart = (old * to.perMinute) / (now * from.perMinute);
    return Math.abs(apart - 1) <= SAME;
  });
  const tempos = `${from.perMinute} to ${to.perMinute}`;
  if (!found) return { ratio: null, words: `${tempos}: count the new beat aloud before it begins` };
  const [old, now] = found;
  if (old === now) return { ratio: found, words: 'the beat stays' };
  const last = old === 1 ? 'lasts' : 'last';
  return {
    ratio: found,
    words: `${tempos}: ${NUMBERS[old] ?? ''} of the old beats ${last} as long as ${NUMBERS[now] ?? ''} of the new`,
  };
}
