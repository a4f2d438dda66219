import { describe, expect, it } from 'vitest';
import { rungsFor, rungsIn } from './rungs.ts';

describe('rungs at the keys', () => {
  it('a level is a mix, and each hand can have its own', () => {
    expect(rungsFor('beginner')).toEqual({ right: 1, left: 1, pedal: 0, texture: 1 });
    expect(rungsFor('beginner', { 'left hand': 'advanced' })).toEqual({
      right: 1,
      left: 4,
      pedal: 0,
      texture: 1,
    });
  });

  it('the pedal is asked for, never given with a level', () => {
    expect(rungsFor('advanced').pedal).toBe(0);
    expect(rungsFor('beginner', { pedal: 'intermediate' }).pedal).toBe(1);
  });

  it('one section can go up a step while the rest stays', () => {
    const usual = rungsFor('beginner');
    const own = { left: 2, sections: { refrain: { right: 2, texture: 3 } } } as const;
    expect(rungsIn(usual, own, 'verse')).toEqual({ ...usual, left: 2 });
    expect(rungsIn(usual, own, 'refrain')).toEqual({ right: 2, left: 2, pedal: 0, texture: 3 });
  });
});
