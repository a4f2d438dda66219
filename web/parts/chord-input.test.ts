import { describe, expect, it } from 'vitest';
import { stepOf } from './chord-input.ts';

const at = (value: string, from: number, to = from) => ({
  value,
  selectionStart: from,
  selectionEnd: to,
});

describe('A key in the field of a chord', () => {
  it.each([
    ['Tab', false, at('Am', 0, 2), 1],
    ['Tab', true, at('Am', 0, 2), -1],
    ['ArrowRight', false, at('Am', 2), 1],
    ['ArrowRight', false, at('Am', 1), null],
    ['ArrowRight', false, at('Am', 0, 2), null],
    ['ArrowRight', true, at('Am', 2), null],
    ['ArrowLeft', false, at('Am', 0), -1],
    ['ArrowLeft', false, at('Am', 1), null],
    ['ArrowLeft', false, at('', 0), -1],
    ['ArrowRight', false, at('', 0), 1],
    ['7', false, at('Am', 2), null],
  ])('%s (Shift: %s) in %o leads by %s', (key, shiftKey, field, step) => {
    expect(stepOf({ key, shiftKey }, field)).toBe(step);
  });
});
