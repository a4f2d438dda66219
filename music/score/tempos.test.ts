import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { check } from './check-score.ts';
import { QUARTER, type Score, type Tempo, type TempoAt } from './score.ts';
import { changingTempos, inTempo, secondsBetween, withTempos } from './tempos.ts';
import { tempoAt } from './time.ts';
import { score as transposed } from './transpose.ts';

const quarter = (perMinute: number): Tempo => ({ beat: QUARTER, perMinute });
const bar = 4 * QUARTER;
const slowerFromBar3: TempoAt = { at: 2 * bar, tempo: quarter(60) };
const plain = buildScore({
  key: 'G',
  meter: '4/4',
  tempo: 120,
  voices: { tune: 'G4:4 | A4:4 | B4:4 | G4:4' },
});
const song: Score = { ...plain, tempoChanges: [slowerFromBar3] };

describe('a song whose tempo changes', () => {
  it('holds together', () => {
    expect(check(song)).toEqual([]);
  });

  it.each([
    ['at the start', [{ at: 0, tempo: quarter(60) }]],
    ['after the end', [{ at: 4 * bar, tempo: quarter(60) }]],
    ['out of order', [slowerFromBar3, { at: bar, tempo: quarter(80) }]],
    ['twice at one place', [slowerFromBar3, slowerFromBar3]],
    ['to a standstill', [{ at: bar, tempo: quarter(0) }]],
    ['inside a tick', [{ at: 0.5, tempo: quarter(80) }]],
  ])('is refused where it changes %s', (_what, tempoChanges) => {
    expect(check({ ...plain, tempoChanges })).not.toEqual([]);
  });

  it('has one tempo up to the change and another from it on', () => {
    expect(tempoAt(song, 2 * bar - 1)).toEqual(quarter(120));
    expect(tempoAt(song, 2 * bar)).toEqual(quarter(60));
    expect(tempoAt(plain, 3 * bar)).toEqual(quarter(120));
    expect(tempoAt({ ...song, tempo: null }, 0)).toBeNull();
  });

  it('keeps its tempos in another key', () => {
    expect(transposed(song, { tonic: 'C', mode: 'major' }).tempoChanges).toEqual([slowerFromBar3]);
  });

  // A metronome mark is the number of beats in sixty seconds: four quarters at 120 are 2 s, at 60 they are 4 s.
  it('takes the time of each stretch at its own tempo', () => {
    expect(secondsBetween(song, { from: 0, to: 4 * bar })).toBe(2 + 2 + 4 + 4);
    expect(secondsBetween(song, { from: bar, to: 3 * bar })).toBe(2 + 4);
    expect(secondsBetween(song, { from: 3 * bar, to: 4 * bar })).toBe(4);
    expect(secondsBetween({ ...song, tempo: null }, { from: 0, to: 4 * bar })).toBeNull();
    expect(secondsBetween({ ...song, tempo: null }, { from: 2 * bar, to: 4 * bar })).toBe(8);
  });
});

describe('a song at the tempo of an arrangement', () => {
  it('keeps the ratio of its changes', () => {
    expect(inTempo(song, quarter(100))).toMatchObject({
      tempo: quarter(100),
      tempoChanges: [{ at: 2 * bar, tempo: quarter(50) }],
    });
  });

  it('compares tempos that count different notes by their quarters', () => {
    const halves = inTempo(song, { beat: 2 * QUARTER, perMinute: 40 });
    expect(halves.tempoChanges).toEqual([{ at: 2 * bar, tempo: quarter(40) }]);
  });

  it('stays as it is without one, and keeps its changes where it has no tempo of its own to compare', () => {
    expect(inTempo(song, null)).toBe(song);
    expect(inTempo({ ...song, tempo: null }, quarter(100)).tempoChanges).toEqual([slowerFromBar3]);
  });
});

describe('a list of tempos', () => {
  it('drops what changes nothing', () => {
    const list = [
      { at: 0, tempo: quarter(120) },
      { at: bar, tempo: quarter(120) },
      { at: 2 * bar, tempo: null },
      { at: 3 * bar, tempo: quarter(60) },
    ];
    expect(changingTempos(list).map(({ at }) => at)).toEqual([0, 3 * bar]);
    expect(withTempos(song, list.slice(0, 3))).not.toHaveProperty('tempoChanges');
  });
});
