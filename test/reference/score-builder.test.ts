import { describe, expect, it } from 'vitest';
import { QUARTER, Time } from '#music';
import { buildScore } from '#test/support/score-builder.ts';

describe('A score typed for a test', () => {
  it('has a pickup, bars, ties, rests and words where the text has them', () => {
    const score = buildScore({
      key: 'G',
      meter: '3/4',
      voices: {
        tune: 'D4 | G4:2 B4:1/2 G4:1/2 | B4:2~ B4 | r:3',
        bass: 'G3 G2:3 G2:3 r:3',
      },
      words: ['A- maz- ing * grace'],
    });
    expect(score.bars.map((bar) => [bar.number, bar.length / QUARTER])).toEqual([
      [0, 1],
      [1, 3],
      [2, 3],
      [3, 3],
    ]);
    expect(Time.placeOf(score, 0)).toEqual({ bar: 0, beat: 3 });
    expect(Time.soundingNotes(Time.melodyOf(score)).map((note) => note.pitch)).toEqual([
      'D4',
      'G4',
      'B4',
      'G4',
      'B4',
    ]);
    expect(score.voices[0]?.notes[4]?.syllables).toEqual([{ text: 'grace' }]);
    expect(score.keys[0]?.signature).toBe(1);
  });

  it('has bars by its meter where the text draws none', () => {
    const score = buildScore({ key: 'C', meter: '4/4', voices: { tune: 'C4:4 D4:4 C4:4' } });
    expect(score.bars.map((bar) => bar.number)).toEqual([1, 2, 3]);
  });
});
