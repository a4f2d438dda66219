import { Keys, Pitches } from '#music';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { above, altered, halfStepped, nearest, octaved, spelled, stepped } from './edit-pitches.ts';

const midi = fc.integer({ min: 24, max: 96 });
const signature = fc.integer({ min: -7, max: 7 });

describe('The pitch of a letter', () => {
  it.each([
    ['D', 'C4', 0, 'D4'],
    ['B', 'C4', 0, 'B3'],
    ['G', 'C4', 0, 'G3'],
    ['F', 'C4', 0, 'F4'],
    ['F', 'E4', 1, 'F#4'],
    ['B', 'C5', -2, 'Bb4'],
    ['C', 'C4', 0, 'C4'],
  ] as const)('%s after %s under %i signs is %s', (letter, from, signs, pitch) => {
    expect(nearest(letter, from, signs)).toBe(pitch);
  });

  it('is at most a fourth away, and as the signature has it', () => {
    fc.assert(
      fc.property(fc.constantFrom(...'CDEFGAB'), midi, signature, (letter, from, signs) => {
        const start = spelled(from, 0);
        const found = Pitches.requirePitch(nearest(letter as 'C', start, signs));
        expect(found.letter).toBe(letter);
        expect(Math.abs(found.step - Pitches.requirePitch(start).step)).toBeLessThanOrEqual(3);
        expect(found.alter).toBe(Keys.alterIn(signs, found.letter));
      }),
    );
  });

  it('joins a note from above', () => {
    expect(above('G', 'E4', 0)).toBe('G4');
    expect(above('E', 'E4', 0)).toBe('E5');
    expect(above('C', 'B4', 2)).toBe('C#5');
  });
});

describe('A pitch that is moved', () => {
  it.each([
    ['E4', 1, 0, 'F4'],
    ['E4', 1, 1, 'F#4'],
    ['C5', -1, 0, 'B4'],
    ['F#4', 1, 0, 'G4'],
  ] as const)('%s by a step %i under %i signs is %s', (from, direction, signs, to) => {
    expect(stepped(from, direction, signs)).toBe(to);
  });

  it.each([
    ['F4', 1, 0, 'F#4'],
    ['F#4', 1, 0, 'G4'],
    ['B4', -1, 0, 'Bb4'],
    ['Bb4', -1, 0, 'A4'],
    ['E4', 1, 0, 'F4'],
    ['A4', 1, -1, 'Bb4'],
    ['C5', 1, 2, 'C#5'],
  ] as const)('%s by a half step %i under %i signs is %s', (from, direction, signs, to) => {
    expect(halfStepped(from, direction, signs)).toBe(to);
  });

  it('by half a step sounds half a step away', () => {
    fc.assert(
      fc.property(midi, signature, fc.constantFrom(-1 as const, 1 as const), (from, signs, way) => {
        expect(Pitches.midiOf(halfStepped(spelled(from, signs), way, signs))).toBe(from + way);
      }),
    );
  });

  it('by an octave keeps its name, and an accidental its line', () => {
    expect(octaved('Bb4', 1)).toBe('Bb5');
    expect(altered('B4', -1)).toBe('Bb4');
    expect(altered('F#4', 0)).toBe('F4');
  });
});

// Common practice of spelling, as in harmony textbooks: in C major F sharp, C sharp, G sharp, B flat and E flat.
describe('A key that is struck', () => {
  it('is written in C as F♯, C♯, G♯, B♭ and E♭', () => {
    const names = [60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70, 71].map((each) => spelled(each, 0));
    expect(names).toEqual(['C4', 'C#4', 'D4', 'Eb4', 'E4', 'F4', 'F#4', 'G4', 'G#4', 'A4', 'Bb4', 'B4']); // prettier-ignore
  });

  it('is written as the key has it, and sounds as it is', () => {
    fc.assert(
      fc.property(midi, signature, (sounding, signs) => {
        expect(Pitches.midiOf(spelled(sounding, signs))).toBe(sounding);
      }),
    );
    for (const signs of [-4, 0, 3]) {
      for (const letter of ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const) {
        const pitch = Pitches.pitchName(letter, Keys.alterIn(signs, letter), 4);
        expect(spelled(Pitches.midiOf(pitch), signs)).toBe(pitch);
      }
    }
  });
});
