import { describe, expect, it } from 'vitest';
import { GUIDELINES, voice } from './congregation.ts';
import { CHILDREN } from './children.ts';
import { CAUTIONS } from './cautions.ts';
import { middle, read, span } from './range.ts';

describe('a range', () => {
  it('is two notes with the lower one first', () => {
    expect(read('A3', 'D5')).toMatchObject({ ok: true, value: { low: 'A3', high: 'D5' } });
    expect(read('A3', 'A3')).toMatchObject({ ok: true });
  });

  it.each([
    ['D5', 'A3', 'range-upside-down'],
    ['H3', 'D5', 'not-a-pitch'],
    ['A', 'D5', 'not-a-pitch'],
    ['A3', 'D55', 'beyond-the-piano'],
    ['A-1', 'D5', 'beyond-the-piano'],
  ])('%s to %s is refused: %s', (low, high, code) => {
    expect(read(low, high)).toMatchObject({ ok: false, problems: [{ code }] });
  });

  it('has a middle that may lie between two keys', () => {
    expect(middle({ low: 'A3', high: 'D5' })).toBe(65.5);
    expect(span({ low: 'A3', high: 'D5' })).toBe(17);
  });
});

describe('what is published about ranges', () => {
  it.each(GUIDELINES.map((each) => [each.id, each] as const))(
    'guideline %s names its source and is a range',
    (id, guideline) => {
      expect(guideline.source.length).toBeGreaterThan(10);
      const { comfortable } = voice(id);
      expect(read(comfortable.low, comfortable.high).ok).toBe(true);
    },
  );

  it('starts from the committee’s A3 to D5 and takes a range of one’s own', () => {
    expect(voice().comfortable).toEqual({ low: 'A3', high: 'D5' });
    expect(voice({ low: 'B3', high: 'C5' }).comfortable).toEqual({ low: 'B3', high: 'C5' });
    expect(voice('upper-limit-d').comfortable).toEqual({ low: 'A3', high: 'D5' });
    expect(() => voice('nobody')).toThrow('no guideline nobody');
  });

  it.each(CHILDREN.map((each) => [each.who, each] as const))(
    'children: %s',
    (_, { range, source }) => {
      expect(read(range.low, range.high).ok).toBe(true);
      expect(source).not.toBe('');
    },
  );

  it('every caution says where it comes from', () => {
    for (const { text, source } of CAUTIONS) {
      expect(text).toMatch(/[.]$/);
      expect(source).not.toBe('');
    }
  });
});
