import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { TEXTURES, type Texture } from '../arrangement.ts';
import { drawn, hairpin, propose, proposeEnding } from './builds.ts';

describe('how a song builds', () => {
  it('the verses of a hymn grow from held to every beat', () => {
    const grace = hymn('Amazing_Grace-New_Britain.abc');
    const proposed = propose(grace);
    expect(proposed).toHaveLength(grace.form.length);
    expect(proposed[0]).toBe('held');
    expect(proposed.at(-1)).toBe('every beat');
    const steps = proposed.map((texture) => TEXTURES.indexOf(texture));
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
  });

  it('a refrain is a step fuller than the verse before it', () => {
    const music = 'P:V\nc4|c4|\nP:R\nd4|d4|]';
    const score = songOf(music, ['one two', 'three four']);
    const sections = score.sections.map((section, i) => ({
      ...section,
      kind: i === 0 ? ('verse' as const) : ('refrain' as const),
    }));
    const [verse = '', refrain = ''] = sections.map(({ id }) => id);
    const form = [1, 2].flatMap((number) => [
      { section: verse, verse: number },
      { section: refrain, verse: null },
    ]);
    expect(propose({ ...score, sections, form })).toEqual([
      'held',
      'answered',
      'every beat',
      'swaying',
    ]);
  });

  it('ends broadly where it has grown, quietly where it has fallen back', () => {
    const grace = hymn('Amazing_Grace-New_Britain.abc');
    expect(proposeEnding(grace, propose(grace))).toBe('broad');
    const grown = grace.form.map((): Texture => 'broken');
    expect(proposeEnding(grace, [...grown.slice(1), 'held'])).toBe('quiet');
    expect(proposeEnding(grace, [...grown.slice(1), 'leading'])).toBeNull();
    expect(
      proposeEnding(
        grace,
        grown.map((): Texture => 'held'),
      ),
    ).toBeNull();
    const bridge = grace.sections.map((section) => ({ ...section, kind: 'bridge' as const }));
    expect(proposeEnding({ ...grace, sections: bridge }, grown)).toBeNull();
  });

  it('a song of one verse is held', () => {
    expect(propose(songOf('c4|c4|]', ['one two']))).toEqual(['held']);
  });

  it('a hairpin goes evenly from one end to the other', () => {
    expect(hairpin('held', 'every beat', 4)).toEqual(['held', 'answered', 'leading', 'every beat']);
    expect(hairpin('broken', 'held', 3)).toEqual(['broken', 'every beat', 'held']);
    expect(hairpin('held', 'swaying', 1)).toEqual(['swaying']);
    const texture = fc.constantFrom(...TEXTURES);
    fc.assert(
      fc.property(texture, texture, fc.integer({ min: 2, max: 20 }), (from, to, passes) => {
        const steps = hairpin(from, to, passes).map((each) => TEXTURES.indexOf(each));
        expect(steps[0]).toBe(TEXTURES.indexOf(from));
        expect(steps.at(-1)).toBe(TEXTURES.indexOf(to));
        const up = TEXTURES.indexOf(to) >= TEXTURES.indexOf(from);
        expect(steps).toEqual([...steps].sort((a, b) => (up ? a - b : b - a)));
      }),
    );
  });
});

describe('a hairpin that is drawn over passes', () => {
  const held: readonly Texture[] = ['held', 'held', 'held', 'held'];

  it('goes from the pass where it begins, as that is played, to the one where it ends', () => {
    expect(drawn(held, { from: 0, to: 3, texture: 'every beat' })).toEqual([
      'held',
      'answered',
      'leading',
      'every beat',
    ]);
  });

  it('goes the other way as well, and leaves the other passes', () => {
    expect(drawn(held, { from: 3, to: 1, texture: 'leading' })).toEqual([
      'held',
      'leading',
      'answered',
      'held',
    ]);
  });

  it('one pass alone is played anew', () => {
    expect(drawn(held, { from: 2, to: 2, texture: 'broken' })).toEqual(
      held.toSpliced(2, 1, 'broken'),
    );
  });
});
