import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { build } from '../parts/parts.ts';
import type { Part } from '../parts/part.ts';
import { of } from './known.ts';

const PLAYER = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 } as const;

function partOf(file: string, tonic: string): Part {
  const arrangement = { key: { tonic, mode: 'major' }, tempo: null, density: 'bar' } as const;
  const built = build(hymn(file), arrangement, PLAYER, { roles: ['keys'] });
  if (!built.ok) throw new Error(built.problems[0]?.message);
  return built.value;
}

describe('the shapes that somebody has met', () => {
  it('are none without a part', () => {
    expect(of([])).toEqual([]);
  });

  it('are those of the part, each in one song, however often it was played', () => {
    const part = partOf('Amazing_Grace-New_Britain.abc', 'G');
    const once = of([{ song: 'a', part }]);
    expect(once.map(({ notes }) => notes)).toEqual(part.shapes.map(({ notes }) => notes));
    expect(once.every(({ songs }) => songs === 1)).toBe(true);
    expect(
      of([
        { song: 'a', part },
        { song: 'a', part },
      ]),
    ).toEqual(once);
  });

  it('are one where chord, notes and fingers are the same, those of most songs first', () => {
    const grace = partOf('Amazing_Grace-New_Britain.abc', 'G');
    const vision = partOf('Be_Thou_My_Vision-Slane.abc', 'G');
    const known = of([
      { song: 'a', part: grace },
      { song: 'b', part: vision },
    ]);
    const sign = (each: {
      readonly notes: readonly string[];
      readonly fingers: readonly number[];
    }) => [each.notes, each.fingers].join('/');
    const shared = grace.shapes.filter((shape) =>
      vision.shapes.some((other) => sign(shape) === sign(other)),
    );
    expect(known.filter(({ songs }) => songs === 2)).toHaveLength(shared.length);
    expect(known.length).toBe(grace.shapes.length + vision.shapes.length - shared.length);
    expect(known.map(({ songs }) => songs)).toEqual(
      known.map(({ songs }) => songs).sort((a, b) => b - a),
    );
  });
});
