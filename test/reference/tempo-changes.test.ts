import { describe, expect, it } from 'vitest';
import { Abc, QUARTER, Scores, type Score } from '#music';
import { songOf } from '#test/support/small-abc.ts';

/** [quarters from the start, length of the counted note in quarters, how many a minute], the start first. */
function tempos({ tempo, tempoChanges = [] }: Score): (readonly [number, number, number])[] {
  const all = [...(tempo ? [{ at: 0, tempo }] : []), ...tempoChanges];
  return all.map(({ at, tempo: { beat, perMinute } }) => [at / QUARTER, beat / QUARTER, perMinute]);
}

const HEAD = 'M:4/4\nL:1/4\nQ:1/4=100';
const sound = (score: Score): Score => {
  expect(Scores.check(score)).toEqual([]);
  return score;
};

// ABC 2.1, section 3.1.8 and 3.1.16: `Q:` may stand in the head, in the body and inside a line.
describe('Changes of tempo in ABC', () => {
  it.each<[string, string, (readonly [number, number, number])[]]>([
    ['inside a line', 'CDEF|[Q:1/4=60]GABc|', [[0, 1, 100], [4, 1, 60]]],
    ['on a line of their own', 'CDEF|\nQ:3/8=60\nGABc|', [[0, 1, 100], [4, 1.5, 60]]],
    ['inside a bar', 'CD[Q:1/4=60]EF|', [[0, 1, 100], [2, 1, 60]]],
    ['at the start of the music, instead of the head', '[Q:1/4=60]CDEF|', [[0, 1, 60]]],
    ['that change nothing', 'CDEF|[Q:1/4=100]GABc|', [[0, 1, 100]]],
    ['after the last note', 'CDEF|[Q:1/4=60]', [[0, 1, 100]]],
    ['that are words only', 'CDEF|[Q:"rit."]GABc|', [[0, 1, 100]]],
    ['several', 'CDEF|[Q:1/4=60]GABc|[Q:1/2=60]GABc|', [[0, 1, 100], [4, 1, 60], [8, 2, 60]]],
    ['old figures, counted in the unit of notes', 'CDEF|[Q:60]GABc|', [[0, 1, 100], [4, 1, 60]]],
  ])('%s are read', (_, music, expected) => {
    expect(tempos(sound(songOf(music, [], HEAD)))).toEqual(expected);
  }); // prettier-ignore

  it('hold from the start where the first one is said at the end of a pickup, and only there', () => {
    expect(tempos(sound(songOf('G|[Q:1/4=60]CDEF|GAB|')))).toEqual([[0, 1, 60]]);
    const late = sound(songOf('CDEF|[Q:1/4=60]GABc|'));
    expect([late.tempo, tempos(late)]).toEqual([null, [[4, 1, 60]]]);
  });

  it('belong to all voices, whichever says them', () => {
    const text = 'V:1\nCDEF|GABc|\nV:2\nC,4|[Q:1/4=60]G,4|';
    expect(tempos(sound(songOf(text, [], HEAD)))).toEqual([[0, 1, 100], [4, 1, 60]]); // prettier-ignore
    const both = 'V:1\nCDEF|[Q:1/4=60]GABc|\nV:2\nC,4|[Q:1/4=60]G,4|';
    expect(tempos(songOf(both, [], HEAD))).toEqual([[0, 1, 100], [4, 1, 60]]); // prettier-ignore
  });

  it('are written and read again, also where no voice begins a note', () => {
    const song = sound(songOf('CDEF|[Q:3/8=60]GA[Q:1/4=72.5]Bc|', [], HEAD));
    const held: Score = { ...song, tempoChanges: [{ at: 1.5 * QUARTER, tempo: { beat: QUARTER, perMinute: 50 } }] }; // prettier-ignore
    for (const score of [song, held]) {
      const again = Abc.read(Abc.write(score));
      expect(again.ok && again.value[0] && tempos(again.value[0])).toEqual(tempos(score));
    }
  });
});
