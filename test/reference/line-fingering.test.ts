import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Fingering, type PitchName } from '#music';

/**
 * Totals published in Parncutt, Sloboda, Clarke, Raekallio & Desain 1997, "An Ergonomic Model of Keyboard Fingering for
 * Melodic Fragments", Music Perception 14(4) 341–382, for the right hand in fragments of Czerny op. 821, as the tests of the open code pydactyl (commit 0ad656d)
 * has them. Of the seven fragments D and E are those whose ten totals follow from the printed rules.
 */
const FRAGMENTS: readonly (readonly [string, string, readonly (readonly [string, number])[]])[] = [
  [
    'D, C sharp major',
    'C#4 E#4 D#4 F#4 E#4 G#4 F#4',
    [
      ['1323132', 12],
      ['1324132', 12],
      ['2412132', 13],
      ['1212132', 14],
      ['1213242', 14],
      ['1323142', 14],
      ['1323242', 15],
      ['2413242', 15],
      ['2435132', 15],
      ['1213232', 16],
    ],
  ],
  [
    'E, F major, chromatic',
    'A5 G#6 A6 E6 F6 C#6 D6 G#5',
    [
      ['14523152', 24],
      ['14523142', 28],
      ['14512152', 31],
      ['14513152', 32],
      ['14515342', 32],
      ['14515352', 32],
      ['14524152', 32],
      ['13412152', 33],
      ['13523152', 33],
      ['14515452', 33],
    ],
  ],
  // The best of the others that the printed rules give exactly.
  ['A, C major', 'E5 G5 F5 G5 E5 F5 D5 E5', [['24342313', 6]]],
  ['F, B flat major', 'G3 Bb3 D4 Bb3 G4 D4', [['124251', 17]]],
  ['G, D major', 'F#6 G6 F#6 E6 F#6 E6 D6', [['3432321', 2]]],
];

const digits = (fingers: string) => [...fingers].map(Number);
const names = (line: string) => line.split(' ') as PitchName[];

describe('fingers of a line', () => {
  for (const [name, line, totals] of FRAGMENTS)
    it.each(totals)(`fragment ${name}: %s has %i points, as published`, (fingers, total) => {
      expect(Fingering.pointsOf(names(line), digits(fingers), 'right').total).toBe(total);
    });

  it.each(FRAGMENTS)(
    'fragment %s: what is found has no more points than the published best',
    (...[, line, totals]) => {
      const [best] = Fingering.ofLine(names(line), 'right');
      expect(best?.total).toBeLessThanOrEqual(totals[0]?.[1] ?? 0);
    },
  );

  it('ways come in order, each another, and the left hand is the right in a mirror', () => {
    const ways = Fingering.ofLine(names('C4 D4 E4 F4 G4 A4 B4 C5'), 'right', { most: 6 });
    expect(ways).toHaveLength(6);
    expect(ways.map(({ total }) => total)).toEqual(
      ways.map(({ total }) => total).sort((a, b) => a - b),
    );
    expect(new Set(ways.map(({ fingers }) => fingers.join(''))).size).toBe(6);
    // C up is E down in the mirror about D.
    const mirrored = Fingering.ofLine(names('E4 D4 C4 B3 A3 G3 F3 E3'), 'left', { most: 6 });
    expect(mirrored.map(({ fingers }) => fingers)).toEqual(ways.map(({ fingers }) => fingers));
  });

  it('a given finger stays', () => {
    const [way] = Fingering.ofLine(names('G4 A4 B4 C5'), 'right', { fixed: [null, null, 5] });
    expect(way?.fingers[2]).toBe(5);
  });

  it('a leap wider than any hand puts it anew', () => {
    const [way] = Fingering.ofLine(names('C3 C6 D6'), 'right');
    expect(way?.fingers).toHaveLength(3);
  });

  it('is the least of all ways, tried one by one', () => {
    const key = fc.constantFrom(...names('C4 C#4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4 C5 D5 E5'));
    fc.assert(
      fc.property(fc.array(key, { minLength: 2, maxLength: 5 }), (line) => {
        const playable = everyWay(line.length).filter((fingers) => canPlay(line, fingers));
        fc.pre(playable.length > 0);
        const totals = playable
          .map((fingers) => Fingering.pointsOf(line, fingers, 'right').total)
          .sort((a, b) => a - b);
        const found = Fingering.ofLine(line, 'right', { most: 3 }).map(({ total }) => total);
        expect(found).toEqual(totals.slice(0, 3));
      }),
      { numRuns: 200 },
    );
  });
});

function everyWay(length: number): number[][] {
  if (length === 0) return [[]];
  return everyWay(length - 1).flatMap((way) => [1, 2, 3, 4, 5].map((finger) => [...way, finger]));
}

/** Practical spans of the same paper as pydactyl transcribes them, written down once more. */
const PRACTICAL: Readonly<Record<string, readonly [number, number]>> = {
  '12': [-5, 10],
  '13': [-4, 12],
  '14': [-3, 14],
  '15': [-1, 15],
  '23': [1, 5],
  '24': [1, 7],
  '25': [2, 10],
  '34': [1, 4],
  '35': [1, 7],
  '45': [1, 5],
};

const KEYS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
function keyOf(name: string): number {
  const [, letter = 'C', sign = '', octave = '4'] = /^([A-G])([#b]?)(\d)$/.exec(name) ?? [];
  return Number(octave) * 12 + (KEYS[letter] ?? 0) + (sign === '#' ? 1 : sign === 'b' ? -1 : 0);
}

function canPlay(line: readonly string[], fingers: readonly number[]): boolean {
  return fingers.slice(1).every((to, i) => {
    const from = fingers[i] ?? 0;
    const way = keyOf(line[i + 1] ?? '') - keyOf(line[i] ?? '');
    if (from === to) return way === 0;
    const [least, most] = PRACTICAL[`${Math.min(from, to)}${Math.max(from, to)}`] ?? [0, 0];
    const keys = from < to ? way : -way;
    return keys >= least && keys <= most;
  });
}
