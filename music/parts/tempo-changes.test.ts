import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { ofSong } from '../order/lengths.ts';
import { check } from '../score/check-score.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { tempoAt } from '../score/time.ts';
import { arranged } from './arranged.ts';
import { handCosts } from './in-key/hand-costs.ts';
import { introductionOf, withIntroduction } from './form/introduction.ts';
import { layOut } from './laid-out.ts';
import { build } from './parts.ts';
import { writtenOut } from './form/written-out.ts';

const key = { tonic: 'C', mode: 'major' } as const;
const AS_IT_IS = { key, tempo: null, density: 'bar' } as const;
/** Four bars of verse at 120, four of refrain at 60. */
const song = songOf(
  '[P:Verse]"C"C4|"F"F4|"G"G4|"C"C4|[P:Refrain][Q:1/4=60]"F"F4|"C"C4|"G"G4|"C"C4|]',
  [],
  'M:4/4\nL:1/4\nQ:1/4=120',
);
/** [bars from the start, beats a minute] of every change. */
const changes = ({ tempoChanges = [] }: Score) =>
  tempoChanges.map(({ at, tempo }) => [at / (4 * QUARTER), tempo.perMinute]);

describe('A song that changes its tempo', () => {
  it('is played in the ratio of its tempos at the tempo of an arrangement', () => {
    const tempo = { beat: QUARTER, perMinute: 80 };
    const faster = arranged(song, { ...AS_IT_IS, tempo });
    expect([faster.tempo?.perMinute, changes(faster)]).toEqual([80, [[4, 40]]]);
  });

  it('has its changes later behind an introduction, which is played in the first tempo', () => {
    const introduction = introductionOf(song);
    const whole = withIntroduction(song, introduction);
    expect(check(whole)).toEqual([]);
    // The last four bars, which are slow where they stand.
    expect(introduction.spans).toEqual([{ from: 16 * QUARTER, to: 32 * QUARTER }]);
    expect([whole.tempo?.perMinute, changes(whole)]).toEqual([120, [[8, 60]]]);
  });

  it('is as long as each stretch at its tempo, the introduction at the first', () => {
    // Sixteen quarters at 120 are 8 s, at 60 they are 16 s; the introduction is another sixteen at 120.
    expect(ofSong(song, { tempo: null, form: null }).seconds).toBeCloseTo(8 + 8 + 16, 9);
    const [verse, refrain] = song.sections.map(({ id }) => ({ section: id, verse: null }));
    if (!verse || !refrain) throw new Error('two sections');
    const form = [verse, refrain, verse, refrain];
    expect(ofSong(song, { tempo: null, form }).seconds).toBeCloseTo(8 + 2 * (8 + 16), 9);
    const tempo = { beat: QUARTER, perMinute: 60 };
    expect(ofSong(song, { tempo, form: null }).seconds).toBeCloseTo(2 * (8 + 8 + 16), 9);
    expect(ofSong({ ...song, tempo: null }, { tempo: null, form: null }).words).toContain('no tempo is given for its start'); // prettier-ignore
  });

  it('keeps its tempos where a section is written out twice', () => {
    const [verse, refrain] = song.sections.map(({ id }) => id);
    const form = [
      { section: verse ?? '', verse: null, texture: 'held' },
      { section: refrain ?? '', verse: null, texture: 'held' },
      { section: verse ?? '', verse: null, texture: 'every beat' },
      { section: refrain ?? '', verse: null, texture: 'every beat' },
    ] as const;
    const { score } = writtenOut({ ...song, form });
    expect(score.sections.map(({ from }) => from / (4 * QUARTER))).toEqual([0, 4, 8, 12]);
    expect([score.tempo?.perMinute, changes(score)]).toEqual([120, [[8, 60]]]);
    // The same with the refrain first: what is fast is fast again.
    const turned = { ...song, tempo: tempoAt(song, 16 * QUARTER), tempoChanges: [{ at: 16 * QUARTER, tempo: { beat: QUARTER, perMinute: 120 } }] }; // prettier-ignore
    expect(changes(writtenOut({ ...turned, form }).score)).toEqual([[8, 120]]);
  });

  it('is counted in at its first tempo', () => {
    const laid = layOut(song, AS_IT_IS);
    expect(laid.ok && laid.value.count.words).toBe('count 1 2 3 4 | (play)');
  });

  it('is harder for the hands where it is faster', () => {
    const player = { name: 'Ines', reach: 12 };
    const cost = (score: Score): number => {
      const plan = handCosts(score, { tempo: null, density: 'bar' }, player)(key);
      return plan.ok ? plan.total : NaN;
    };
    const quick: Score = { ...song, tempo: { beat: QUARTER, perMinute: 400 } };
    const { tempoChanges: _none, ...even } = quick;
    expect(cost(quick)).toBeGreaterThan(cost(song));
    expect(cost(even)).toBeGreaterThan(cost(quick));
  });

  it('says the time of a change of chord at the tempo of its place', () => {
    const quick = songOf(
      '[P:Verse]"C"C4|"F"F4|[Q:1/4=60]"C"C4|"Bdim"B,4|"F#m"^F4|"C"C4|]',
      [],
      'M:4/4\nL:1/4\nQ:1/4=240',
    );
    const part = build(quick, AS_IT_IS, { id: '1', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 }, { roles: [] }); // prettier-ignore
    if (!part.ok) throw new Error(part.problems[0]?.message);
    expect(JSON.stringify(part.value)).toContain('4 beats at 60 a minute: 4 seconds');
  });
});
