import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { check } from '../score/check-score.ts';
import { QUARTER, type Score, type Tempo } from '../score/score.ts';
import { apply, say, type Edit } from './editing.ts';

const quarter = (perMinute: number): Tempo => ({ beat: QUARTER, perMinute });
const bar = 4 * QUARTER;
const plain = buildScore({
  key: 'G',
  meter: '4/4',
  tempo: 100,
  voices: { tune: 'D4 | G4:4 | A4:4 | B4:4 | G4:3' },
});

function edited(score: Score, edit: Edit): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  expect(check(result.value)).toEqual([]);
  return result.value;
}
const refusal = (score: Score, edit: Edit): string => {
  const result = apply(score, edit);
  return result.ok ? 'done' : (result.problems[0]?.message ?? '');
};
/** [bar index, beats a minute] of every change. */
const changes = ({ bars, tempoChanges = [] }: Score) =>
  tempoChanges.map(({ at, tempo }) => [bars.findIndex((each) => each.at === at), tempo.perMinute]);

const slower: Edit = { do: 'tempo', bar: 3, tempo: quarter(60) };
const song = edited(plain, slower);

describe('The edit of a tempo', () => {
  it('changes it from a bar on, and at the start where no bar is said', () => {
    expect(song.tempo).toEqual(quarter(100));
    expect(song.tempoChanges).toEqual([{ at: QUARTER + 2 * bar, tempo: quarter(60) }]);
    expect(edited(song, { do: 'tempo', tempo: quarter(90) })).toMatchObject({
      tempo: quarter(90),
      tempoChanges: song.tempoChanges,
    });
    expect(edited(song, { do: 'tempo', bar: 0, tempo: quarter(90) }).tempo).toEqual(quarter(90));
  });

  it('takes a change back, and at the start says no tempo', () => {
    expect(edited(song, { do: 'tempo', bar: 3, tempo: null })).toEqual(plain);
    expect(edited(song, { do: 'tempo', tempo: null })).toEqual({ ...song, tempo: null });
    expect(refusal(song, { do: 'tempo', bar: 2, tempo: null })).toBe(
      'The tempo does not change at bar 2.',
    );
  });

  it('is no change where it is the tempo already', () => {
    expect(edited(song, { do: 'tempo', bar: 3, tempo: quarter(100) })).toEqual(plain);
    expect(edited(song, { do: 'tempo', bar: 2, tempo: quarter(60) }).tempoChanges).toHaveLength(1);
  });

  it('refuses what nobody counts, bars that are not there, and a change inside a song without bars', () => {
    expect(refusal(song, { do: 'tempo', bar: 1, tempo: quarter(4) })).toContain('between 10 and 500'); // prettier-ignore
    expect(refusal(song, { do: 'tempo', bar: 1, tempo: { beat: 0.5, perMinute: 60 } })).toContain('no beat'); // prettier-ignore
    expect(refusal(song, { do: 'tempo', bar: 9, tempo: quarter(60) })).toContain('no such bar');
    expect(refusal({ ...plain, untimed: true }, slower)).toContain('no bars yet');
    expect(refusal({ ...plain, untimed: true }, { do: 'tempo', tempo: quarter(60) })).toBe('done');
  });

  it('is said with its bar', () => {
    expect(say(plain, slower)).toBe('From bar 3 on: quarter = 60');
    expect(say(song, { do: 'tempo', bar: 3, tempo: null })).toBe('Change of tempo at bar 3 taken away'); // prettier-ignore
    expect(say(song, { do: 'tempo', tempo: quarter(90) })).toBe('Tempo: quarter = 90');
    expect(say(song, { do: 'tempo', tempo: null })).toBe('No tempo');
  });
});

describe('A change of tempo goes with its bar', () => {
  it('where bars are put in and taken out', () => {
    expect(changes(edited(song, { do: 'insert bars', bar: 2, count: 2 }))).toEqual([[5, 60]]);
    expect(changes(edited(song, { do: 'insert bars', bar: 3, count: 1 }))).toEqual([[4, 60]]);
    expect(changes(edited(song, { do: 'insert bars', bar: 4, count: 1 }))).toEqual([[3, 60]]);
    expect(changes(edited(song, { do: 'remove bars', from: 1, to: 2 }))).toEqual([[2, 60]]);
    expect(changes(edited(song, { do: 'remove bars', from: 3, to: 4 }))).toEqual([[3, 60]]);
    expect(changes(edited(song, { do: 'remove bars', from: 3, to: 5 }))).toEqual([]);
    const end = edited(song, { do: 'remove bars', from: 0, to: 3 });
    expect([end.tempo, end.tempoChanges]).toEqual([quarter(60), undefined]);
  });

  it('where there was another change beside it', () => {
    const both = edited(song, { do: 'tempo', bar: 4, tempo: quarter(100) });
    expect(changes(both)).toEqual([[3, 60], [4, 100]]); // prettier-ignore
    expect(changes(edited(both, { do: 'remove bars', from: 3, to: 4 }))).toEqual([]);
  });

  it('where the pickup gets longer or shorter', () => {
    const longer = edited(song, { do: 'pickup', length: 2 * QUARTER });
    expect(changes(longer)).toEqual([[3, 60]]);
    const rest = edited(song, { do: 'erase', voice: 'tune', at: 0 });
    expect(changes(edited(rest, { do: 'pickup', length: 0 }))).toEqual([[2, 60]]);
  });

  it('where bars of another meter stand before it', () => {
    const three = edited(song, { do: 'meter', bar: 1, meter: { beats: 3, unit: 4 } });
    expect(three.tempoChanges?.[0]?.at).toBe(QUARTER + 2 * bar);
    const back = edited(song, { do: 'meter', bar: 3, meter: { beats: 3, unit: 4 } });
    const longer = edited(back, { do: 'meter', bar: 1, meter: { beats: 5, unit: 4 } });
    expect(longer.tempoChanges?.[0]?.at).toBe(QUARTER + 2 * bar + 2 * QUARTER);
  });

  it('where a song of words gets its time', () => {
    const made = buildScore({ key: 'G', meter: '4/4', tempo: 80, voices: { tune: 'G4:4 | A4:4' } });
    const words: Score = {
      ...made,
      untimed: true,
      tempoChanges: [{ at: bar, tempo: quarter(60) }],
    };
    const timed = edited(words, { do: 'give time', meter: { beats: 3, unit: 4 }, barsPerChord: 1 });
    expect(timed.tempoChanges).toEqual([{ at: 3 * QUARTER, tempo: quarter(60) }]);
  });
});
