import { describe, expect, it } from 'vitest';
import { spread } from './headings.ts';

describe('The names of sections over a line', () => {
  it('stand over their notes where there is room', () => {
    const names = [
      { at: 0, width: 60 },
      { at: 400, width: 80 },
    ];
    expect(spread(names, 800)).toEqual([0, 400]);
  });

  it('never lie over each other, nor beyond the edge', () => {
    const close = [
      { at: 0, width: 60 },
      { at: 30, width: 80 },
      { at: 790, width: 100 },
    ];
    expect(spread(close, 800)).toEqual([0, 76, 700]);
  });
});
