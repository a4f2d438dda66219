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
const STEPS = [1, 2, 3, 4] as const;
/** Every step of the right hand with every step of the left, with and without pedal and pulse; every texture. */
const MIXES = STEPS.flatMap((right) =>
  STEPS.map((left): Steps => {
    const texture = right === 1 ? 1 : 6;
    return { right, left, pedal: left === 4 ? 1 : 0, texture, pulse: (right + left) % 3 === 0 };
  }),
);
/** Each hymn in each key is played on a few of the mixes, and every hymn on every mix in some key. */
const SHARE = 8;
const FIRST: Steps = { right: 1, left: 1, pedal: 1, texture: 1 };
const SECOND: Steps = { right: 2, left: 1, pedal: 0, texture: 6 };

/** Two textures in turn, as a sheet writes no more of a section: others in each key, so that every hymn is played in all. */
function inTwoTextures({ form, bars }: Score, key: number): ArrangedPass[] {
  const turn = key + bars.length;
  const places = [turn, turn + 1 + (turn % (TEXTURES.length - 1))];
  return form.map((pass, i) => ({
    ...pass,
    texture: TEXTURES[(places[i % 2] ?? 0) % TEXTURES.length] ?? 'held',
  }));
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
    form: inTwoTextures(
      score,
      TWELVE.findIndex((each) => each === tonic),
    ),
  } as const;
  const built = Parts.build(score, arrangement, player, { roles: ['keys'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

describe.each(HYMN_FILES)('%s', (file) => {
  it.each(TWELVE)('in %s on the steps of each hand', (tonic) => {
    const turn = HYMN_FILES.indexOf(file) + TWELVE.indexOf(tonic);
    const mixes = MIXES.filter((_, mix) => (mix + turn) % SHARE === 0);
    for (const rungs of mixes) {
      const faults = faultsOf(part(hymn(file), tonic, rungs), {
        reach: 12,
        lowest: 'E1',
        highest: 'A5',
      });
      expect(faults.slice(0, 5), JSON.stringify(rungs)).toEqual([]);
    }
  });
});

describe('players of different steps', () => {
  it.each(HYMN_FILES)(
    '%s: hold the same shapes on the first two steps, the same chords on all',
    (file) => {
      const score = hymn(file);
      const [first, second] = [FIRST, SECOND].map((rungs) => part(score, 'F', rungs));
      const chords = ({ score: { chords } }: Part) =>
        new Set(chords.map(({ chord }) => JSON.stringify(chord)));
      expect(chords(second as Part)).toEqual(chords(first as Part));
      const shapes = (each: Part) => each.shapes.map(({ notes }) => notes.join(' ')).sort();
      expect(shapes(second as Part)).toEqual(shapes(first as Part));
    },
  );
});
