import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { readKey, type Key } from '../pitch/key.ts';
import type { Tempo } from '../score/score.ts';
import { QUARTER } from '../score/score.ts';
import { build } from './parts.ts';

const JOEL = { id: 'joel', name: 'Joel', role: 'keys', level: 'beginner', reach: 12 } as const;
const GRACE = hymn('Amazing_Grace-New_Britain.abc');

function practiceIn(key: string, tempo: Tempo | null = GRACE.tempo): readonly string[] {
  const arrangement = { key: readKey(key) as Key, tempo, density: 'bar' } as const;
  const part = build(GRACE, arrangement, JOEL, { roles: ['keys'] });
  if (!part.ok) throw new Error(part.problems[0]?.message);
  return part.value.practice;
}

describe('what to practise first', () => {
  it('is the hardest change with its bar, its time and the way of the hand; then the next', () => {
    expect(practiceIn('F')).toEqual([
      'Practise first: B♭ to F, bars 4 and 12, 1 beat at 100 a minute: 0.6 seconds. On F the 2 becomes 3; thumb down a step, 5 down a half step. Back and forth between the two until the hand knows the way.',
      'Then: C7 to F, bars 7 and 15, 1 beat at 100 a minute: 0.6 seconds. Thumb stays; 5 down a half step; 3 instead of 2, on F.',
    ]);
  });

  it('changes with the key and the tempo', () => {
    expect(practiceIn('G')[0]).toContain('C to G, bars 4 and 12');
    expect(practiceIn('F', { beat: QUARTER, perMinute: 60 })[0]).toContain(
      'at 60 a minute: 1 second',
    );
  });

  it('speaks of the bars of the song, not of the introduction before it', () => {
    expect(practiceIn('F').join(' ')).not.toContain('bar 0');
    expect(practiceIn('F').join(' ')).not.toContain('pickup');
  });
});
