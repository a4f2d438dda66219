import { describe, expect, it } from 'vitest';
import { plan, type RightHandOptions } from './right-hand.ts';
import { leastAssignment } from './least-assignment.ts';

function settled(chords: string, options: RightHandOptions = {}) {
  const result = plan(chords.split(' '), { goal: 'settled', ...options });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result;
}
const shapes = (chords: string, options?: RightHandOptions) =>
  settled(chords, options).shapes.map((shape) => shape.notes.join(' '));

describe('With one shape per chord as its goal', () => {
  it('a chord keeps its shape over any bass and in any spelling', () => {
    const [c, , overE] = shapes('C F C/E');
    expect(overE).toBe(c);
    expect(shapes('C# F# Db', { start: ['C#4', 'E#4', 'G#4'] })[2]).toBe('Db4 F4 Ab4');
  });

  it('a start holds for the whole song', () => {
    const start = ['C4', 'E4', 'G4'];
    const found = shapes('C F G C Am C', { start });
    expect([found[0], found[3], found[5]]).toEqual(Array(3).fill('C4 E4 G4'));
  });

  it('answers no chords with nothing', () => {
    expect(plan([], { goal: 'settled' })).toMatchObject({
      shapes: [],
      total: 0,
      settled: { nearest: 0, proof: 'optimal' },
    });
  });

  it('says the gap where dozens of chords stand each beside each', () => {
    const roots = 'C Db D Eb E F Gb G Ab A Bb B'.split(' ');
    const all = [...roots, ...roots.map((root) => `${root}m`)];
    const chords = all.flatMap((one) => all.flatMap((other) => [one, other])).join(' ');
    const { total, settled: found } = settled(chords);
    expect(found?.proof).toEqual({ gap: total - (found?.nearest ?? 0) });
  });
});

describe('The least assignment', () => {
  const pair = (scope: readonly number[], ...first: number[]) => ({
    scope,
    first: Float64Array.from(first),
    then: new Float64Array(first.length),
  });

  it('is not found choice by choice: each alone would take the other', () => {
    const factors = [pair([0], 0, 1), pair([1], 0, 1), pair([0, 1], 9, 9, 9, 0)];
    expect(leastAssignment([2, 2], factors)).toMatchObject({ choices: [1, 1] });
  });

  it('of equals is the lowest at the first unknown where they differ', () => {
    const factors = [pair([0, 1], 1, 0, 0, 1), pair([1, 2], 1, 0, 0, 1)];
    expect(leastAssignment([2, 2, 2], factors)?.choices).toEqual([0, 1, 0]);
  });

  it('is not looked for where its tables would be too big', () => {
    expect(leastAssignment([9, 9], [pair([0, 1], ...Array<number>(81).fill(0))], 50)).toBeNull();
  });
});
