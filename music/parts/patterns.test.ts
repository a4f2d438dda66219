import { describe, expect, it } from 'vitest';
import { QUARTER, type Meter } from '../score/score.ts';
import { TEXTURES, type Texture } from './arrangement.ts';
import { patternOf, type Strike } from './patterns.ts';

const EIGHTH = QUARTER / 2;
const METERS = {
  '4/4': { beats: 4, unit: 4 },
  '3/4': { beats: 3, unit: 4 },
  '6/8': { beats: 6, unit: 8 },
  '9/8': { beats: 9, unit: 8 },
  '2/2': { beats: 2, unit: 2 },
  '12/8': { beats: 12, unit: 8 },
  '2/4': { beats: 2, unit: 4 },
  '3/2': { beats: 3, unit: 2 },
  '4/2': { beats: 4, unit: 2 },
  '6/4': { beats: 6, unit: 4 },
  '5/4': { beats: 5, unit: 4 },
} as const satisfies Record<string, Meter>;

const eighths = (strikes: readonly Strike[]) =>
  strikes
    .map(
      ({ at, touch, soft }) =>
        `${at / EIGHTH}${touch === 'all' ? '' : ` ${touch}`}${soft ? ' soft' : ''}`,
    )
    .join(', ');
const played = (meter: Meter, texture: Texture) => {
  const { right, left } = patternOf(meter, texture);
  return `${eighths(right)} / ${eighths(left)}`;
};

describe('textures in eighths from the bar line, right hand / left hand', () => {
  // Figures as they are taught (common practice): held, repeated softly, again on the last beat into the
  // next chord, on every beat; bass and then chord; low to high.
  it.each<[keyof typeof METERS, Texture, string]>([
    ['4/4', 'held', '0 / 0'],
    ['4/4', 'answered', '0, 4 one soft / 0'],
    ['4/4', 'leading', '0, 6 / 0'],
    ['4/4', 'every beat', '0, 2, 4, 6 / 0'],
    ['4/4', 'swaying', '2, 6 / 0, 4'],
    ['4/4', 'broken', '0 low, 1 middle, 2 high, 3 middle, 4 low, 5 middle, 6 high, 7 middle / 0'],
    ['3/4', 'answered', '0, 2 one soft / 0'],
    ['3/4', 'leading', '0, 4 / 0'],
    ['3/4', 'every beat', '0, 2, 4 / 0'],
    ['3/4', 'swaying', '2, 4 / 0'],
    ['3/4', 'broken', '0 low, 1 middle, 2 high, 3 middle, 4 low, 5 middle / 0'],
    ['6/8', 'answered', '0, 3 one soft / 0'],
    ['6/8', 'leading', '0, 5 / 0'],
    ['6/8', 'every beat', '0, 3 / 0'],
    ['6/8', 'swaying', '1, 2, 4, 5 / 0, 3'],
    ['6/8', 'broken', '0 low, 1 middle, 2 high, 3 low, 4 middle, 5 high / 0'],
    ['9/8', 'answered', '0, 3 one soft / 0'],
    ['9/8', 'leading', '0, 6 / 0'],
    ['9/8', 'swaying', '3, 6 / 0'],
    ['2/2', 'answered', '0, 4 one soft / 0'],
    ['2/2', 'leading', '0, 6 / 0'],
    ['2/2', 'swaying', '2, 6 / 0, 4'],
  ])('%s %s: %s', (meter, texture, expected) => {
    expect(played(METERS[meter], texture)).toBe(expected);
  });

  it.each(Object.keys(METERS) as (keyof typeof METERS)[])('%s: builds along the scale', (name) => {
    const patterns = TEXTURES.map((texture) => patternOf(METERS[name], texture));
    const moments = patterns.map(
      ({ right, left }) => new Set([...right, ...left].map(({ at }) => at)).size,
    );
    expect(moments).toEqual([...moments].sort((a, b) => a - b));
    const signs = TEXTURES.map((texture) => played(METERS[name], texture));
    for (const [i, sign] of signs.entries()) if (i > 0) expect(sign).not.toBe(signs[i - 1]);
  });

  it('without a meter everything is held', () => {
    for (const texture of TEXTURES) expect(played({ beats: null, unit: 4 }, texture)).toBe('0 / 0');
  });
});
