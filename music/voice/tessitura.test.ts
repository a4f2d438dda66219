import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { of } from './tessitura.ts';

const tune = (line: string, more: object = {}) =>
  buildScore({ key: 'C', meter: '4/4', voices: { tune: line, bass: 'C3:8' }, ...more });

describe('the tessitura of a tune', () => {
  it('weighs each pitch by its time, not by how often it comes', () => {
    const found = of(tune('C4:1/2 C4:1/2 C4:1/2 C4:1/2 G4:6'));
    expect(found).toMatchObject({
      low: 'C4',
      high: 'G4',
      q1: 'C4',
      median: 'G4',
      q3: 'G4',
      mean: 65.25,
      beats: 8,
      beatsByPitch: { C4: 2, G4: 6 },
    });
  });

  it.each([
    ['the quarter is reached at the very end of a pitch', 'C4:2 E4:6', 'C4', 'E4', 'E4'],
    ['the half is reached at the very end of a pitch', 'C4:1 D4:3 E4:4', 'D4', 'D4', 'E4'],
    ['three quarters are reached at the very end', 'C4:3 D4:3 E4:2', 'C4', 'D4', 'D4'],
    ['one pitch is all there is', 'C4:8', 'C4', 'C4', 'C4'],
  ])('takes the lowest pitch that reaches the quarter: %s', (_, line, q1, median, q3) => {
    expect(of(tune(line))).toMatchObject({ q1, median, q3 });
  });

  it('leaves rests out and adds up what is tied', () => {
    expect(of(tune('C4:1 r:3 G4:2~ G4:2'))).toMatchObject({
      beats: 5,
      beatsByPitch: { C4: 1, G4: 4 },
    });
  });

  it('takes spellings of one sound together, under the name that has more of the time', () => {
    const found = of(tune('Ab4:1 G#4:2 G4:5'));
    expect(found?.beatsByPitch).toEqual({ G4: 5, 'G#4': 3 });
    expect(of(tune('Ab4:2 G#4:2 G4:4'))?.high).toBe('Ab4');
  });

  it('sings the top note of a chord', () => {
    expect(of(tune('C4+E4+G4:8'))?.beatsByPitch).toEqual({ G4: 8 });
  });

  it('keeps times exact that no decimal holds', () => {
    const found = of(tune('C4:1/3 D4:1/3 E4:1/3 C4:7'));
    expect(found?.pitches.map(({ ticks }) => ticks)).toEqual([147_840, 6720, 6720]);
  });

  it('tells sections apart, each with its own figures, and leaves a played introduction out', () => {
    const score = tune('G4:2 C4:2 E4:2 D5:2');
    const beat = 20160;
    const cut = (id: string, kind: 'verse' | 'refrain' | 'intro', from: number, to: number) => ({
      id,
      kind,
      name: id,
      from: from * beat,
      to: to * beat,
    });
    const sections = [
      cut('Before', 'intro', 0, 2),
      cut('V', 'verse', 2, 4),
      cut('R', 'refrain', 4, 8),
    ];
    const found = of({ ...score, sections });
    expect(found).toMatchObject({ low: 'C4', high: 'D5', beats: 6 });
    expect(found?.sections).toMatchObject([
      { section: 'V', low: 'C4', high: 'C4', beats: 2 },
      { section: 'R', low: 'E4', high: 'D5', beats: 4 },
    ]);
    expect(of({ ...score, sections }, { section: 'R' })).toMatchObject({ low: 'E4', beats: 4 });
  });

  it('measures another voice by its name, and nothing where nothing is sung', () => {
    expect(of(tune('C4:8'), { voice: 'bass' })?.beatsByPitch).toEqual({ C3: 8 });
    expect(of(tune('r:8'))).toBeNull();
    expect(() => of(tune('C4:8'), { voice: 'descant' })).toThrow('no voice descant');
  });
});
