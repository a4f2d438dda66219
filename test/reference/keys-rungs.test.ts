import { describe, expect, it } from 'vitest';
import {
  Keys,
  Parts,
  TEXTURES,
  type ArrangedPass,
  type Part,
  type Player,
  type RungSteps as Steps,
  type Score,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { faultsOf } from '#test/support/judge-keys.ts';

const TWELVE = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
/** Every step of each ladder, the ladders together. */
const MIXES = [
  { right: 1, left: 1, pedal: 1, texture: 1 },
  { right: 2, left: 1, pedal: 0, texture: 6 },
  { right: 1, left: 2, pedal: 0, texture: 1 },
  { right: 2, left: 3, pedal: 0, texture: 6 },
  { right: 2, left: 4, pedal: 0, texture: 6 },
] as const satisfies readonly Steps[];

/** Pass after pass through all textures, so that every hymn is played in many of them. */
function inAllTextures({ form }: Score): ArrangedPass[] {
  return form.map((pass, i) => ({ ...pass, texture: TEXTURES[i % TEXTURES.length] ?? 'held' }));
}

function part(score: Score, tonic: string, rungs: Steps, reach = 12): Part {
  const home = score.keys[0]?.key;
  const key = Keys.readKey(tonic);
  if (!home || !key) throw new Error('a hymn has a key');
  const player: Player = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach, rungs };
  const arrangement = {
    key: { ...key, mode: home.mode },
    tempo: null,
    density: 'bar',
    form: inAllTextures(score),
  } as const;
  const built = Parts.build(score, arrangement, player, { roles: ['keys'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

describe.each(MIXES)('right $right, left $left, texture $texture', (rungs) => {
  it.each(HYMN_FILES)('%s in twelve keys', (file) => {
    for (const tonic of TWELVE) {
      const faults = faultsOf(part(hymn(file), tonic, rungs), {
        reach: 12,
        lowest: 'E1',
        highest: 'A5',
      });
      expect(faults.slice(0, 5), tonic).toEqual([]);
    }
  });
});

describe('players of different steps', () => {
  it.each(HYMN_FILES)(
    '%s: hold the same shapes on the first two steps, the same chords on all',
    (file) => {
      const score = hymn(file);
      const [first, second] = MIXES.map((rungs) => part(score, 'F', rungs));
      const chords = ({ score: { chords } }: Part) =>
        new Set(chords.map(({ chord }) => JSON.stringify(chord)));
      expect(chords(second as Part)).toEqual(chords(first as Part));
      const shapes = (each: Part) => each.shapes.map(({ notes }) => notes.join(' ')).sort();
      expect(shapes(second as Part)).toEqual(shapes(first as Part));
    },
  );
});
