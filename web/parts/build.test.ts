import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TEXTURES } from '#music';
import {
  hairpinLines,
  inUse,
  openingOf,
  sayEnd,
  strokeTo,
  textureByKey,
  textureOfOpening,
} from './build.ts';

const textures = fc.constantFrom(...TEXTURES);

describe('the drawing of a build', () => {
  it('each texture lies where it is drawn', () => {
    for (const texture of TEXTURES) expect(textureOfOpening(openingOf(texture))).toBe(texture);
  });

  it('a pointer anywhere gives a pass and a texture of the song', () => {
    const anywhere = fc.double({ min: -500, max: 1500, noNaN: true });
    fc.assert(
      fc.property(anywhere, anywhere, fc.integer({ min: 1, max: 20 }), (x, y, passes) => {
        const stroke = strokeTo(0, { x, y }, { width: 600, height: 200, passes });
        expect(stroke.to).toBeGreaterThanOrEqual(0);
        expect(stroke.to).toBeLessThan(passes);
        expect(TEXTURES).toContain(stroke.texture);
      }),
    );
  });

  it('higher is fuller: the middle is held, the top is broken', () => {
    const room = { width: 300, height: 200, passes: 3 };
    expect(strokeTo(0, { x: 250, y: 0 }, room)).toEqual({ from: 0, to: 2, texture: 'broken' });
    expect(strokeTo(2, { x: 10, y: 100 }, room)).toEqual({ from: 2, to: 0, texture: 'held' });
    expect(strokeTo(1, { x: 150, y: 33 }, room).texture).toBe('every beat');
  });

  it('the two lines mirror each other about the middle, from edge to edge', () => {
    fc.assert(
      fc.property(fc.array(textures, { minLength: 1, maxLength: 12 }), (passes) => {
        const points = hairpinLines(passes).map((line) =>
          line
            .slice(1)
            .split('L')
            .map((point) => point.split(' ').map(Number)),
        );
        const [upper = [], lower = []] = points;
        expect(upper).toHaveLength(passes.length + 2);
        upper.forEach(([x, y = 0], i) => {
          expect(lower[i]?.[0]).toBe(x);
          expect(y + (lower[i]?.[1] ?? 0)).toBeCloseTo(200, 5);
        });
        expect([upper[0]?.[0], upper.at(-1)?.[0]]).toEqual([0, passes.length * 100]);
      }),
    );
  });

  it('its last line goes to how the last pass ends', () => {
    const upperEnd = (line: string) => Number(line.slice(line.lastIndexOf(' ') + 1));
    const build = ['held', 'broken', 'swaying'] as const;
    const heights = ([null, 'quiet', 'broad'] as const).map((ending) =>
      upperEnd(hairpinLines(build, ending)[0]),
    );
    // Swaying is the fifth of six, held the first; broad it stays as full.
    expect(heights).toEqual([16.7, 83.3, 16.7]);
    expect(upperEnd(hairpinLines(['held'], 'broad')[0])).toBe(33.3);
    expect([sayEnd(null), sayEnd('quiet')]).toEqual(['', ', and it ends quietly']);
  });

  it('keys go a step, or to either end, and no further', () => {
    expect(textureByKey('held', 'ArrowUp')).toBe('answered');
    expect(textureByKey('held', 'ArrowDown')).toBe('held');
    expect(textureByKey('broken', 'ArrowUp')).toBe('broken');
    expect(textureByKey('leading', 'Home')).toBe('held');
    expect(textureByKey('leading', 'End')).toBe('broken');
    expect(textureByKey('leading', 'x')).toBeNull();
  });

  it('each texture in use is said once, with the words of the pass where it comes first', () => {
    const said = inUse(['held', 'leading', 'held'], (at, texture) => `${texture} at ${at}`);
    expect(said).toEqual([
      { texture: 'held', words: 'held at 0' },
      { texture: 'leading', words: 'leading at 1' },
    ]);
  });
});
