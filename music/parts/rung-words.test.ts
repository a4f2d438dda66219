import { describe, expect, it } from 'vitest';
import { TEXTURES } from './arrangement.ts';
import { sayStep, stepsOf } from './rung-words.ts';

describe('the words of the ladders', () => {
  it('every step of every ladder is said, and no two alike', () => {
    expect(stepsOf('right')).toEqual([1, 2, 3, 4]);
    expect(stepsOf('left')).toEqual([1, 2, 3, 4]);
    expect(stepsOf('pedal')).toEqual([0, 1]);
    expect(stepsOf('bass')).toEqual([1, 2, 3]);
    expect(stepsOf('texture')).toHaveLength(TEXTURES.length);
    for (const ladder of ['right', 'left', 'pedal', 'texture', 'bass'] as const) {
      const said = stepsOf(ladder).map((step) => sayStep(ladder, step));
      expect(said.every((words) => words !== '')).toBe(true);
      expect(new Set(said).size).toBe(said.length);
    }
  });

  it('a step that there is not is not said', () => {
    expect(sayStep('left', 5)).toBe('');
    expect(sayStep('pedal', 2)).toBe('');
  });
});
