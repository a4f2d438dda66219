import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf, pitchClassOf } from '../pitch/pitch.ts';
import { neckPlaceOf, placeBass, sayNeckPlace } from './bass-places.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B', 'Cb', 'B#', 'E#'];
/** First position as it sounds, from the lowest open string to the fourth fret of the G string. */
const LOWEST = { 4: midiOf('E1'), 5: midiOf('B0') } as const;
const HIGHEST = midiOf('B2');

/** What a line costs note by note: the widest way beyond a fifth, all that goes beyond it, the height, the jumps. */
function costOf(line: readonly number[]): number[] {
  const ways = line.slice(1).map((midi, i) => Math.abs(midi - (line[i] ?? 0)));
  const over = ways.map((far) => (far > 7 ? far - 7 : 0));
  const sum = (all: readonly number[]) => all.reduce((total, each) => total + each, 0);
  return [Math.max(0, ...over), sum(over), sum([...new Set(line)]), sum(ways)];
}

/** Every way to give each pitch class one octave, tried one by one; shares no code with the planner. */
function bruteForce(line: readonly string[], strings: 4 | 5): number[] {
  const classes = [...new Set(line.map(pitchClassOf))];
  const keys = Array.from({ length: HIGHEST - LOWEST[strings] + 1 }, (_, i) => LOWEST[strings] + i);
  const options = classes.map((sound) => keys.filter((midi) => midi % 12 === sound));
  const all = options.reduce<number[][]>(
    (lists, some) => lists.flatMap((list) => some.map((midi) => [...list, midi])),
    [[]],
  );
  const costs = all.map((places) =>
    costOf(line.map((note) => places[classes.indexOf(pitchClassOf(note))] ?? 0)),
  );
  const differs = (a: number[], b: number[]) => a.findIndex((each, i) => each !== b[i]);
  return costs.reduce((best, each) => {
    const at = differs(each, best);
    return at >= 0 && (each[at] ?? 0) < (best[at] ?? 0) ? each : best;
  });
}

const lines = fc.array(fc.constantFrom(...NAMES), { minLength: 1, maxLength: 14 });
const strings = fc.constantFrom<4 | 5>(4, 5);

describe('the octaves of a bass line', () => {
  it('have no way wider than a fifth where that can be, then lie deepest, then jump least', () => {
    fc.assert(
      fc.property(lines, strings, (line, own) => {
        expect(costOf(placeBass(line, own).map(midiOf))).toEqual(bruteForce(line, own));
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
    // As a teacher places them: IV a third below vi, beside V on the same string.
    [
      'B flat in F is the low one',
      ['F', 'D', 'Bb', 'F', 'C', 'F'],
      4,
      ['F2', 'D2', 'Bb1', 'F2', 'C2', 'F2'],
    ],
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
