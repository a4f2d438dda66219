import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { say as sayChord } from '../../pitch/chord-symbol.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { QUARTER, type Score } from '../../score/score.ts';
import { TEXTURES, type Player, type Texture } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';
import type { Rungs } from '../rungs.ts';
import { of } from './part-difficulty.ts';

function partOf(
  score: Score,
  rungs: Pick<Rungs, 'right' | 'left'>,
  textures: readonly Texture[],
  perMinute: number | null = null,
): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs: { ...rungs, pedal: 0, texture: 6 },
  };
  const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i % textures.length] ?? 'held' })); // prettier-ignore
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const tempo = perMinute === null ? null : { beat: QUARTER, perMinute };
  const built = build(score, { key, tempo, density: 'bar', form }, player, { roles: ['keys'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const song = songOf('"C"c4|"F"A4|"G"B4|"C"c4|]', ['one two three four']);

describe('what a part above the first rung is made of', () => {
  it('says shapes, textures, octaves and that it is enough where it is', () => {
    const slow = partOf(song, { right: 2, left: 2 }, ['held'], 40);
    expect(slow.summary).toBe(
      'three shapes: F, G, C; the chords held; octaves together in the left hand; all of it enough for Sunday',
    );
  });

  it('says what asks most, where, and what is still right instead', () => {
    const fast = partOf(song, { right: 2, left: 3 }, ['every beat'], 160);
    expect(fast.summary).toMatch(
      /; the chords on every beat; octaves in turn in the left hand; what asks most: bar \d[^;]*; if it comes too fast, .*: still right$/,
    );
    expect(fast.practice.join(' ')).toContain('Then the octaves alone, slowly: C2 and C3 in turn');
  });

  it('names a chord once, however many shapes it has', () => {
    const part = partOf(songOf('"C"c4|"C"e4|"C"g4|"F"a4|]', ['one two three four']), { right: 3, left: 2 }, ['held'], 60); // prettier-ignore
    expect(part.summary).toMatch(/^\w+ shapes of two chords: (C, F|F, C); /);
  });
});

describe.each(HYMN_FILES)('%s', (file) => {
  it.each([1, 2, 3, 4] as const)(
    'on rung %i: never enough where it is not easy for everybody, and never judged',
    (step) => {
      const part = partOf(
        hymn(file),
        { right: step, left: step },
        step === 1 ? ['held'] : TEXTURES,
      );
      const { items } = of(part);
      const isEasy = of(part, []).word === 'easy';
      expect(part.summary.includes('all of it enough for Sunday')).toBe(isEasy);
      if (!isEasy) expect(part.summary).toContain(`; what asks most: ${items[0]?.brief}; if it `);
      expect(part.summary).not.toMatch(/easy|practice|\bhard\b|\bnew\b|\d more/);
      const [shapes = ''] = part.summary.split('; ');
      const names = new Set(part.shapes.map(({ chord }) => sayChord(chord)));
      if (names.size <= 8) for (const name of names) expect(shapes).toContain(name);
      const left = part.score.voices.find(({ id }) => id === 'left')?.notes ?? [];
      const together = left.some(({ pitches }) => {
        const [low = '', high] = pitches;
        return high !== undefined && midiOf(high) - midiOf(low) === 12;
      });
      expect(/octaves together/.test(part.summary)).toBe(together);
      const right = items.find(({ what }) => what === 'right hand');
      // What is to be practised first is what the summary has for the right hand.
      const [first = ''] = part.practice;
      if (right && first.startsWith('Practise first'))
        expect(first).toContain(right.words.split(' in ')[0]);
    },
  );
});
