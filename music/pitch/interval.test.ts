import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Intervals from './interval.ts';
import { midiOf, requirePitch } from './pitch.ts';

const pitch = fc
  .tuple(
    fc.constantFrom(...'CDEFGAB'),
    fc.constantFrom('', '#', 'b', '##', 'bb'),
    fc.integer({ min: 0, max: 8 }),
  )
  .map((parts) => parts.join(''));

describe('An interval', () => {
  it.each([
    ['C4', 'C4', 'no distance', 'unison', 'the same'],
    ['C4', 'C#4', 'a half step', 'augmented unison', 'up a half step'],
    ['C4', 'Db4', 'a half step', 'minor second', 'up a half step'],
    ['C4', 'Bb3', 'a step', 'major second', 'down a step'],
    ['C4', 'Ebb4', 'a step', 'diminished third', 'up a step'],
    ['C4', 'D#4', 'a step and a half', 'augmented second', 'up a step and a half'],
    ['C4', 'Eb4', 'a third', 'minor third', 'up a third'],
    ['C4', 'A3', 'a third', 'minor third', 'down a third'],
    ['C4', 'F4', 'a fourth', 'fourth', 'up a fourth'],
    ['F4', 'B4', 'an augmented fourth', 'augmented fourth', 'up an augmented fourth'],
    ['B3', 'F4', 'a diminished fifth', 'diminished fifth', 'up a diminished fifth'],
    ['C4', 'G3', 'a fourth', 'fourth', 'down a fourth'],
    ['C4', 'A4', 'a sixth', 'major sixth', 'up a sixth'],
    ['C4', 'Bbb4', 'a diminished seventh', 'diminished seventh', 'up a diminished seventh'],
    ['C4', 'C5', 'an octave', 'octave', 'up an octave'],
    ['C4', 'E5', 'a tenth', 'major tenth', 'up a tenth'],
    ['C4', 'F5', 'an eleventh', 'eleventh', 'up an eleventh'],
  ])('from %s to %s is %s (%s): %s', (from, to, said, name, move) => {
    const interval = Intervals.intervalBetween(from, to);
    expect(Intervals.sayInterval(interval)).toBe(said);
    expect(Intervals.nameInterval(interval)).toBe(name);
    expect(Intervals.sayMove(interval)).toBe(move);
    expect(Intervals.transposePitch(from, interval)).toBe(to);
  });

  it('there and back is the same pitch, and the distance is kept', () => {
    fc.assert(
      fc.property(pitch, pitch, pitch, (a, b, c) => {
        const interval = Intervals.intervalBetween(a, b);
        const moved = Intervals.transposePitch(c, interval);
        expect(midiOf(moved) - midiOf(c)).toBe(midiOf(b) - midiOf(a));
        fc.pre(requirePitch(moved).step - requirePitch(c).step === interval.steps);
        expect(Intervals.transposePitch(moved, Intervals.reverse(interval))).toBe(c);
      }),
      { numRuns: 2000, seed: 3 },
    );
  });

  it('never writes more than three accidentals', () => {
    const far = Intervals.transposePitch('F##4', { steps: 0, semitones: 4 });
    expect(far).toBe('B4');
    expect(midiOf(far)).toBe(midiOf('F##4') + 4);
  });
});
