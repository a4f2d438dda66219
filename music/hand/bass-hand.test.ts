import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { FRETS_IN_HAND, neckCostOf, placeHand, type NeckCost } from './bass-hand.ts';
import { neckPlaceOf } from './bass-places.ts';

const PITCHES = ['E1', 'F1', 'Ab1', 'B1', 'D2', 'F#2', 'G2', 'B2', 'C3', 'D3', 'F3'];
/** Sounding keys of the open strings, from the lowest (Wikipedia, Bass guitar tuning). */
const STRINGS = { 4: [28, 33, 38, 43], 5: [23, 28, 33, 38, 43] } as const;

const less = (a: NeckCost, b: NeckCost): number =>
  a.shifted - b.shifted || a.height - b.height || a.crossed - b.crossed;

/** Every string, fret and position of each note, tried one by one; shares no code with the planner. */
function bruteForce(line: readonly PitchName[], strings: 4 | 5): NeckCost {
  let best: NeckCost | null = null;
  const go = (
    i: number,
    before: [string: number, position: number] | null,
    cost: NeckCost,
  ): void => {
    if (best && cost.shifted > best.shifted) return;
    if (i === line.length) {
      if (!best || less(cost, best) < 0) best = cost;
      return;
    }
    STRINGS[strings].forEach((open, string) => {
      const fret = midiOf(line[i] ?? '') - open;
      for (let position = 1; position <= 9; position += 1) {
        if (fret !== 0 && (fret < position || fret > position + 3)) continue;
        go(i + 1, [string, position], {
          shifted: cost.shifted + (before ? Math.abs(position - before[1]) : 0),
          height: cost.height + position - 1,
          crossed: cost.crossed + (before ? Math.abs(string - before[0]) : 0),
        });
      }
    });
  };
  go(0, null, { shifted: 0, height: 0, crossed: 0 });
  return best as unknown as NeckCost;
}

describe('the hand on the neck', () => {
  it('shifts the least of all ways there are, then lies lowest, then crosses the fewest strings', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(...PITCHES), { minLength: 1, maxLength: 5 }),
        fc.constantFrom<4 | 5>(4, 5),
        (line, strings) => {
          const placed = placeHand(line, strings);
          expect(neckCostOf(placed, strings)).toEqual(bruteForce(line, strings));
          placed.forEach(({ fret, position }) => {
            const isUnder = fret >= position && fret < position + FRETS_IN_HAND;
            expect(fret === 0 || isUnder).toBe(true);
          });
        },
      ),
      { numRuns: 150 },
    );
  });

  it('stays in first position where that has every note, one place for each', () => {
    const line = ['E1', 'F1', 'Bb1', 'C2', 'F#2', 'G2', 'B2'];
    for (const [i, place] of placeHand(line, 4).entries()) {
      expect(place).toEqual({ ...neckPlaceOf(line[i] ?? '', 4), position: 1 });
    }
  });

  it('goes up only for what lies higher, and plays open strings from where it is', () => {
    const said = placeHand(['A1', 'C3', 'A1', 'D3', 'G2'], 4).map(
      ({ string, fret, position }) => `${string}${fret} at ${position}`,
    );
    expect(said).toEqual(['A0 at 4', 'G5 at 4', 'A0 at 4', 'G7 at 4', 'G0 at 4']);
    expect(neckCostOf(placeHand(['F1', 'D3'], 4), 4).shifted).toBe(3);
  });

  it('refuses what is not on the neck', () => {
    expect(() => placeHand(['C1'], 4)).toThrow('C1 has no place on the neck');
  });
});
