import { describe, expect, it } from 'vitest';
import { compassOf, pitchTyped, typedCompass } from './edit-compass.ts';

const typed = (low: string, high: string, mostlyLow = '', mostlyHigh = '') =>
  compassOf({ low, high, mostlyLow, mostlyHigh });

describe('How high a song lies, as it is typed', () => {
  it.each([
    ['a3', 'A3'],
    ['B♭4', 'Bb4'],
    ['f#4', 'F#4'],
    [' Eb5 ', 'Eb5'],
    ['H4', null],
    ['A', null],
    ['', null],
  ])('“%s” is %s', (text, pitch) => {
    expect(pitchTyped(text)).toBe(pitch);
  });

  it('is lowest, highest and where it mostly lies', () => {
    expect(typed('A3', 'D5', 'D4', 'B4')).toEqual({
      compass: { low: 'A3', high: 'D5', mostly: { low: 'D4', high: 'B4' } },
    });
    expect(typed('A3', 'D5')).toEqual({ compass: { low: 'A3', high: 'D5', mostly: null } });
    expect(typed('', '')).toEqual({ compass: null });
  });

  it('says what is wrong with it', () => {
    expect(typed('A3', 'x')).toEqual({ wrong: expect.stringContaining('“x”') as string });
    expect(typed('D5', 'A3')).toEqual({ wrong: 'Lowest and highest: D5 lies above A3.' });
    expect(typed('A3', 'D5', 'G3', 'B4')).toHaveProperty('wrong');
  });

  it('is shown as it is said', () => {
    const compass = { low: 'Bb3', high: 'D5', mostly: null };
    expect(typedCompass(compass)).toEqual({
      low: 'B♭3',
      high: 'D5',
      mostlyLow: '',
      mostlyHigh: '',
    });
    expect(typed('B♭3', 'D5')).toEqual({ compass });
  });
});
