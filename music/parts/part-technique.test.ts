import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { TEXTURES, type Player, type Texture } from './arrangement.ts';
import { build } from './parts.ts';
import { techniqueOf } from './part-technique.ts';
import type { OwnRungs } from './rungs.ts';

const WORDS = ['one two three four'];
const IN_FOUR = songOf('"C"c4|"F"c4|"G"B4|"C"c4|]', WORDS);
const IN_THREE = songOf('"C"c3|"F"c3|"G"B3|"C"c3|]', WORDS, 'M:3/4\nL:1/4');
const FULL: OwnRungs = { right: 2, texture: 6 };

function rubrics(texture: Texture, rungs: OwnRungs, role: Player['role'] = 'keys', song = IN_FOUR) {
  const player: Player = { id: 'p', name: 'Ines', role, level: 'beginner', reach: 12, rungs };
  const form = song.form.map((pass) => ({ ...pass, texture }));
  const arrangement = { key: { tonic: 'C', mode: 'major' }, tempo: null, density: 'bar', form } as const; // prettier-ignore
  const built = build(song, arrangement, player, { roles: [role] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return techniqueOf(built.value).map(({ id }) => id);
}

describe('how the body plays a part', () => {
  it.each(TEXTURES)(
    '%s: the arm is told of where a chord is struck again a beat later',
    (texture) => {
      const inFour = texture === 'every beat';
      // Bass and then chord twice in three; in four a rest or two beats are between the strokes.
      const inThree = inFour || texture === 'swaying';
      expect(rubrics(texture, FULL)).toEqual(inFour ? ['arm'] : []);
      expect(rubrics(texture, FULL, 'keys', IN_THREE)).toEqual(inThree ? ['arm'] : []);
    },
  );

  it('a player whose right hand holds is told nothing', () => {
    expect(rubrics('every beat', {})).toEqual([]);
  });

  it('the foot is told of where there is a pedal', () => {
    expect(rubrics('held', { pedal: 1 })).toEqual(['foot']);
    expect(rubrics('every beat', { ...FULL, pedal: 1 })).toEqual(['arm', 'foot']);
  });

  it('who sings is told nothing', () => {
    expect(rubrics('every beat', {}, 'lead voice')).toEqual([]);
  });
});
