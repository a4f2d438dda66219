import { describe, expect, it } from 'vitest';
import { sayBeats, sayDistance } from './say-beats.ts';
import { FELT_BEAT } from './sung.ts';

describe('beats as a musician says them', () => {
  it.each([
    [1, 'one beat'],
    [2, 'two beats'],
    [12, 'twelve beats'],
    [13, '13 beats'],
    [1 / 2, 'half a beat'],
    [1 / 4, 'a quarter of a beat'],
    [2 / 3, 'two thirds of a beat'],
    [3 / 2, 'a beat and a half'],
    [4 / 3, 'a beat and a third'],
    [5 / 2, 'two and a half beats'],
    [33 / 2, '16 and a half beats'],
    [1 / 8, 'less than half a beat'],
    [7 / 8, 'most of a beat'],
    [9 / 8, 'a little over one beat'],
    [23 / 8, 'nearly three beats'],
  ])('%d: %s', (beats, words) => {
    expect(sayBeats(Math.round(beats * FELT_BEAT))).toBe(words);
  });

  it.each([
    [1, 'a half step'],
    [-2, 'a step'],
    [5, 'a fourth'],
    [12, 'an octave'],
    [19, 'more than an octave'],
  ])('%d semitones: %s', (semitones, words) => {
    expect(sayDistance(semitones)).toBe(words);
  });
});
