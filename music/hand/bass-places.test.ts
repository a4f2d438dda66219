import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf, pitchClassOf } from '../pitch/pitch.ts';
import { neckPlaceOf, placeBass, sayNeckPlace } from './bass-places.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B', 'Cb', 'B#', 'E#'];
/** First position as it sounds, from the lowest open string to the fourth fret of the G string. */
const LOWEST = { 4: midiOf('E1'), 5: midiOf('B0') } as const;
const HIGHEST = midiOf('B2');

/** Every way to give each pitch class one octave, tried one by one; shares no code with the planner. */
function bruteForce(line: readonly string[], strings: 4 | 5): { jumps: number; height: number } {
  const classes = [...new Set(line.map(pitchClassOf))];
  const keys = Array.from({ length: HIGHEST - LOWEST[strings] + 1 }, (_, i) => LOWEST[strings] + i);
  const options = classes.map((sound) => keys.filter((midi) => midi % 12 === sound));
  const all = options.reduce<number[][]>(
    (lists, some) => lists.flatMap((list) => some.map((midi) => [...list, midi])),
    [[]],
  );
  const costs = all.map((places) => {
    const played = line.map((note) => places[classes.indexOf(pitchClassOf(note))] ?? 0);
    const jumps = played
      .slice(1)
      .reduce((sum, midi, i) => sum + Math.abs(midi - (played[i] ?? 0)), 0);
    return { jumps, height: places.reduce((sum, midi) => sum + midi, 0) };
  });
  return costs.sort((a, b) => a.jumps - b.jumps || a.height - b.height)[0] as (typeof costs)[0];
}

const lines = fc.array(fc.constantFrom(...NAMES), { minLength: 1, maxLength: 14 });
const strings = fc.constantFrom<4 | 5>(4, 5);

describe('the octaves of a bass line', () => {
  it('cost the least of all there are, and of equal ones the deepest are taken', () => {
    fc.assert(
      fc.property(lines, strings, (line, own) => {
        const placed = placeBass(line, own).map(midiOf);
        const jumps = placed
          .slice(1)
          .reduce((sum, midi, i) => sum + Math.abs(midi - (placed[i] ?? 0)), 0);
        const height = [...new Set(placed)].reduce((sum, midi) => sum + midi, 0);
        expect({ jumps, height }).toEqual(bruteForce(line, own));
      }),
      { numRuns: 300 },
    );
  });

  it('stay on the neck, keep their note and its spelling, and give each note one place', () => {
    fc.assert(
      fc.property(lines, strings, (line, own) => {
        const placed = placeBass(line, own);
        placed.forEach((pitch, i) => {
          expect(pitch.replace(/\d$/, '')).toBe(line[i]);
          expect(midiOf(pitch)).toBeGreaterThanOrEqual(LOWEST[own]);
          expect(midiOf(pitch)).toBeLessThanOrEqual(HIGHEST);
        });
        const classes = new Set(line.map(pitchClassOf));
        expect(new Set(placed.map(midiOf)).size).toBe(classes.size);
      }),
      { numRuns: 200 },
    );
  });

  it.each([
    [
      'a note below the E string is moved up an octave, not left out',
      ['Eb', 'D'],
      4,
      ['Eb2', 'D2'],
    ],
    ['with five strings it has its low place', ['D', 'B'], 5, ['D1', 'B0']],
    ['E is the lowest there is', ['E', 'F', 'E'], 4, ['E1', 'F1', 'E1']],
    ['alone, a note lies as deep as it can', ['G'], 4, ['G1']],
  ] as const)('%s', (_, line, own, placed) => {
    expect(placeBass(line, own)).toEqual(placed);
  });

  it('of all twelve notes are found at once', () => {
    expect(placeBass(NAMES.slice(0, 12), 4)).toHaveLength(12);
  });
});

describe('a place on the neck', () => {
  it.each([
    ['E1', 'open E string'],
    ['G1', 'E string, fret 3'],
    ['A1', 'open A string'],
    ['Bb1', 'A string, fret 1'],
    ['C2', 'A string, fret 3'],
    ['F#2', 'D string, fret 4'],
    ['G2', 'open G string'],
  ])('%s: %s', (pitch, words) => {
    const place = neckPlaceOf(pitch, 4);
    expect(place && sayNeckPlace(place)).toBe(words);
  });

  it('is not found below the lowest string or beyond the fourth fret', () => {
    expect(neckPlaceOf('Eb1', 4)).toBeNull();
    expect(neckPlaceOf('C3', 4)).toBeNull();
    expect(neckPlaceOf('Eb1', 5)).toEqual({ string: 'B', fret: 4 });
  });
});
