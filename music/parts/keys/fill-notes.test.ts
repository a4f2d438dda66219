import { describe, expect, it } from 'vitest';
import { midiOf } from '../../pitch/pitch.ts';
import { fillBetween } from './fill-notes.ts';

describe('the notes of a fill', () => {
  const C_MAJOR = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

  it('lead by step to the next top note', () => {
    const fill = (from: string, to: string, sung: string | null = null) =>
      fillBetween({ from, to, count: 2, scale: C_MAJOR, sung })?.join(' ');
    expect(fill('C5', 'E5')).toBe('C5 D5');
    expect(fill('G4', 'C5')).toBe('A4 B4');
    expect(fill('C5', 'G4')).toBe('B4 A4');
    // B is a half step from a C that is held, in any octave, and from above it is too far to go.
    expect(fill('G4', 'C5', 'C4')).toBeUndefined();
    expect(fillBetween({ from: 'C4', to: 'G5', count: 2, scale: C_MAJOR, sung: null })).toBeNull();
  });

  it('are the best of all (every line of scale notes tried)', () => {
    const keys = Array.from({ length: 27 }, (_, i) => 55 + i).filter((key) =>
      [0, 2, 4, 5, 7, 9, 11].includes(key % 12),
    );
    const tops = ['C4', 'E4', 'G4', 'A4', 'B4', 'D5', 'F5'];
    for (const from of tops)
      for (const to of tops)
        for (const sung of [null, 'C4', 'E5', 'F4']) {
          const [start, goal] = [midiOf(from), midiOf(to)];
          const may = (key: number) =>
            sung === null || ![1, 11].includes(Math.abs(key - midiOf(sung)) % 12);
          const rankOf = (a: number, b: number): number =>
            [a, b].filter((key) => key === goal).length * 100 +
            Math.abs(a - start) +
            Math.abs(b - a) +
            Math.abs(goal - b);
          const ranks = keys.flatMap((a) =>
            keys.flatMap((b) => {
              const isStep = [b - a, goal - b].every((by) => by !== 0 && Math.abs(by) <= 2);
              if (!isStep || !may(a) || !may(b) || Math.abs(a - start) > 4) return [];
              return [rankOf(a, b)];
            }),
          );
          const [a, b] =
            fillBetween({ from, to, count: 2, scale: C_MAJOR, sung })?.map(midiOf) ?? [];
          const rank = a === undefined || b === undefined ? Infinity : rankOf(a, b);
          expect(rank, `${from} ${to} ${sung ?? ''}`).toBe(Math.min(Infinity, ...ranks));
        }
  });
});
