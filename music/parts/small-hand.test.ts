import { describe, expect, it } from 'vitest';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { hymn } from '#test/support/hymn.ts';
import { midiOf } from '../pitch/pitch.ts';
import { build } from './parts.ts';

function builtFor(file: string, reach: number) {
  const score = hymn(file);
  const key = score.keys[0]?.key;
  if (!key) throw new Error('no key');
  const ines = { id: 'ines', name: 'Ines', role: 'keys', level: 'beginner', reach } as const;
  return build(score, { key, tempo: null, density: 'bar' }, ines, { roles: [] });
}

describe('a hand of five half steps, the least that is allowed', () => {
  it.each(HYMN_FILES)('has a whole sheet, with one warning: %s', (file) => {
    const built = builtFor(file, 5);
    if (!built.ok) throw new Error(JSON.stringify(built.problems));
    expect(built.warnings.filter(({ code }) => code === 'notes-left-out')).toHaveLength(1);
    for (const { notes, fingers } of built.value.shapes) {
      const keys = notes.map(midiOf);
      expect(keys.length).toBeGreaterThan(0);
      expect(Math.max(...keys) - Math.min(...keys)).toBeLessThanOrEqual(5);
      expect(fingers).toHaveLength(keys.length);
    }
  });

  it('is told of every chord, its first bar and what was left out', () => {
    const built = builtFor('Amazing_Grace-New_Britain.abc', 5);
    const words = built.ok ? built.warnings.map(({ message }) => message) : [];
    expect(words[0]).toBe(
      'A reach of 5 half steps does not hold every chord whole, so Ines leaves notes out: Em (introduction, from bar 13) without B; G (introduction, from bar 13) without D; D7 (introduction, from bar 14) without D and C; C (bar 3) without G.',
    );
  });
});
