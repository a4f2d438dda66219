import { ChordSymbol, Editing, QUARTER, type Chord, type Score } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { describe, expect, it } from 'vitest';
import { chordPlaces, nextPlace, type Fineness } from './edit-beats.ts';

const inQuarters = (score: Score, bar: number, fineness?: Fineness): number[] =>
  chordPlaces(score, bar, fineness).map((at) => at / QUARTER);

const song = (meter: string, tune: string): Score =>
  buildScore({ key: 'C', meter, voices: { tune } });

function chord(symbol: string): Chord {
  const read = ChordSymbol.read(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
}

/** Felt beats of simple and compound meters: common practice (see `Time.feltBeat`). */
describe('Where a chord can begin in a bar', () => {
  it.each([
    ['4/4', 'C4:4 | C4:4', [4, 5, 6, 7], [4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5]],
    ['4/4', 'r:4 | r:4', [4, 5, 6, 7], [4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5]],
    ['3/4', 'C4:3 | C4:3', [3, 4, 5], [3, 3.5, 4, 4.5, 5, 5.5]],
    ['2/2', 'C4:4 | C4:4', [4, 6], [4, 5, 6, 7]],
    ['6/8', 'C4:3 | C4:3', [3, 4.5], [3, 3.5, 4, 4.5, 5, 5.5]],
  ])('of %s with %s is each felt beat, finely its halves or thirds', (meter, tune, beats, fine) => {
    expect(inQuarters(song(meter, tune), 1)).toEqual(beats);
    expect(inQuarters(song(meter, tune), 1, 'half')).toEqual(fine);
  });

  it('is finely also where a note begins, and always where a chord stands', () => {
    const score = song('4/4', 'C4:1/3 D4:1/3 E4:1/3 C4:3/4 D4:1/4 C4:2 | C4:4');
    expect(inQuarters(score, 0)).toEqual([0, 1, 2, 3]);
    expect(chordPlaces(score, 0, 'half')).toContain(QUARTER / 3);
    expect(chordPlaces(score, 0, 'half')).toContain(QUARTER * 1.75);
    const done = Editing.apply(score, { do: 'chord', at: 1.75 * QUARTER, symbol: 'G' });
    if (!done.ok) throw new Error('refused');
    expect(inQuarters(done.value, 0)).toEqual([0, 1, 1.75, 2, 3]);
  });

  it('is counted in a pickup to the bar line', () => {
    const score = song('4/4', 'C4:3/2 | C4:4');
    expect(inQuarters(score, 0)).toEqual([0, 0.5]);
    expect(inQuarters(score, 1)).toEqual([1.5, 2.5, 3.5, 4.5]);
  });
});

describe('The next place of a chord', () => {
  const held = song('4/4', 'C4:4~ | C4:4 | r:4');

  it('leads from beat to beat over bar lines, under what is held and where nothing sounds, and back', () => {
    const forward: number[] = [];
    for (let at: number | null = 0; at !== null; at = nextPlace(held, at, 1)) forward.push(at);
    expect(forward.map((at) => at / QUARTER)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    const back: number[] = [];
    for (let at: number | null = 11 * QUARTER; at !== null; at = nextPlace(held, at, -1))
      back.push(at);
    expect(back).toEqual(forward.toReversed());
  });

  it('leads from anywhere between two to either, and back from the end', () => {
    expect(nextPlace(held, 1.3 * QUARTER, 1)).toBe(2 * QUARTER);
    expect(nextPlace(held, 1.25 * QUARTER, -1)).toBe(QUARTER);
    expect(nextPlace(held, 12 * QUARTER, -1)).toBe(11 * QUARTER);
    expect(nextPlace(held, 0, -1)).toBeNull();
    expect(nextPlace(held, 0, 1, 'half')).toBe(QUARTER / 2);
  });

  it('stops at a chord off the beat', () => {
    const off = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { tune: 'C4:4' },
      chords: [[1.5, chord('Am')]],
    });
    expect(nextPlace(off, QUARTER, 1)).toBe(1.5 * QUARTER);
    expect(nextPlace(off, 2 * QUARTER, -1)).toBe(1.5 * QUARTER);
  });
});
