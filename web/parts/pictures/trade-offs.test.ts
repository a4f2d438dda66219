import { describe, expect, it } from 'vitest';
import { KeyFit, Keys, type Key } from '#music';
import { ROWS as rows } from '#test/support/two-singers.ts';
import { drawTrades, nameOf, valueOf, walked } from './trade-offs.ts';

const key = (tonic: string): Key => ({ tonic, mode: 'major' });
const WIDE = 900;
const PHONE = 320;

describe('the picture of what keys trade', () => {
  it.each([WIDE, PHONE])(
    '%i px: easier is further right, equal keys stand together, all within',
    (width) => {
      const { axes, keys, alike } = drawTrades(rows, key('G'), key('G'), width);
      const sorted = [...rows].sort(KeyFit.byPitch);
      const across = sorted[0]?.costs.filter((cost, i) => {
        const values = new Set(sorted.map((row) => row.costs[i]?.value));
        return values.size > 1 && cost;
      });
      expect(axes.map(({ label }) => label)).toEqual(across?.map(nameOf));
      expect(axes.length + alike.length).toBe(sorted[0]?.costs.length);
      axes.forEach(({ label }, axis) => {
        const at = sorted[0]?.costs.findIndex((cost) => nameOf(cost) === label) ?? -1;
        for (const [i, one] of keys.entries())
          for (const [j, other] of keys.entries()) {
            const [a, b] = [sorted[i]?.costs[at]?.value ?? 0, sorted[j]?.costs[at]?.value ?? 0];
            const [x, y] = [one.at[axis]?.x ?? NaN, other.at[axis]?.x ?? NaN];
            if (a < b) expect(x).toBeGreaterThan(y);
            if (i !== j) expect(Math.abs(x - y)).toBeGreaterThan(20);
            expect(x).toBeGreaterThanOrEqual(0);
            expect(x).toBeLessThanOrEqual(width);
          }
      });
    },
  );

  it('draws the key that is looked at last, over all others, and words never over words', () => {
    const { lines, axes } = drawTrades(rows, key('F'), key('G'), PHONE);
    expect(lines.at(-1)).toMatchObject({ name: 'F', isHere: true, isChosen: false });
    for (const { values } of axes) {
      const seen = values.filter(({ isShown }) => isShown).sort((a, b) => a.x - b.x);
      expect(seen.length).toBeGreaterThan(0);
      seen.slice(1).forEach(({ x, words }, i) => {
        const before = seen[i];
        const room = 3.5 * (words.length + (before?.words.length ?? 0));
        expect(x - (before?.x ?? 0)).toBeGreaterThan(room);
      });
    }
  });

  it('says values shortly', () => {
    const words = rows.flatMap(({ costs }) => costs.map(valueOf));
    expect(words.join(' ')).not.toMatch(/the singing|the range|: /);
  });
});

describe('walking along the front', () => {
  const front = KeyFit.along(rows).map((row) => row.key);
  it('goes from key to key that nothing is better than, and stops at the ends', () => {
    let here = front[0] as Key;
    const path = [here];
    for (let i = 1; i < front.length; i += 1)
      path.push((here = walked('ArrowRight', rows, here) as Key));
    expect(path).toEqual(front);
    expect(walked('ArrowRight', rows, here)).toEqual(here);
    expect(walked('ArrowLeft', rows, here)).toEqual(front.at(-2));
    expect(walked('Home', rows, here)).toEqual(front[0]);
    expect(walked('a', rows, here)).toBeNull();
  });

  it('comes onto it from a key that is off it', () => {
    const off = rows.find(({ dominated }) => dominated);
    if (!off) throw new Error('a key is dominated');
    const to = walked('ArrowRight', rows, off.key) ?? walked('ArrowLeft', rows, off.key);
    expect(front.some((each) => to && Keys.sameKey(each, to))).toBe(true);
  });
});
