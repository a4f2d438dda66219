import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  gridOf,
  notes,
  OVERLAP,
  SHORTEST_REST,
  TOGETHER,
  type Division,
  type PlayedNote,
} from './quantise.ts';
import { QUARTER } from './score.ts';

const SIMPLE = gridOf({ beats: 4, unit: 4 });

/** Played at 100 beats a minute: a beat has 600 ms. */
const at100 = (starts: readonly number[], length = 0.9): PlayedNote[] =>
  starts.map((beat) => ({ at: beat * 600, end: (beat + length) * 600 }));

const beats = (list: { at: number; length: number }[]): number[][] =>
  list.map(({ at, length }) => [at / QUARTER, length / QUARTER]);

describe('Played notes on the grid of their beat', () => {
  it('that are a little early or late come to stand on their beats, and it is known how far they moved', () => {
    const played = at100([0.03, 0.95, 2.04, 3]);
    const { notes: placed, moved } = notes(played, { beat: 600 });
    expect(beats([...placed])).toEqual([
      [0, 1],
      [1, 1],
      [2, 1],
      [3, 1],
    ]);
    expect(placed.map((note) => Math.round(note.moved * 100))).toEqual([-3, 5, -4, 0]);
    expect(moved.most).toBeCloseTo(0.05);
    expect(moved.mean).toBeCloseTo(0.03);
  });

  it('are eighths, sixteenths or triplets, one way in each beat', () => {
    const played = at100([0, 0.52, 1.02, 1.23, 1.5, 1.77, 2.01, 2.32, 2.69], 0.2);
    const { notes: placed } = notes(played, { beat: 600 });
    expect(placed.map(({ at }) => (at * 12) / QUARTER)).toEqual([0, 6, 12, 15, 18, 21, 24, 28, 32]);
  });

  it('of 6/8 are thirds and sixths of the dotted beat', () => {
    const meter = { beats: 6, unit: 8 };
    const played = at100([0.02, 0.3, 0.68, 1.01, 1.51], 0.25);
    const options = { beat: 600, beatTicks: 1.5 * QUARTER, grid: gridOf(meter) };
    const { notes: placed } = notes(played, options);
    expect(placed.map(({ at }) => (at * 2) / QUARTER)).toEqual([0, 1, 2, 3, 4.5]);
  });

  it('struck together are a chord at one place', () => {
    const played = [0, 0.02, 0.05].map((beat) => ({ at: beat * 600, end: 600 }));
    const { notes: placed } = notes(played, { beat: 600 });
    expect(placed.map(({ at }) => at)).toEqual([0, 0, 0]);
  });

  it('keep their order where more come than the grid has places for', () => {
    const played = Array.from({ length: 12 }, (_, i) => ({ at: i * 100, end: i * 100 + 50 }));
    const { notes: placed } = notes(played, { beat: 600 });
    const places = placed.map(({ at }) => at);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
  });

  it('are held to the next one where they were let go early, and a rest of half a beat stays', () => {
    const played: PlayedNote[] = [
      { at: 0, end: 480 },
      { at: 600, end: 880 },
      { at: 1200, end: 1300 },
    ];
    expect(beats([...notes(played, { beat: 600 }).notes])).toEqual([
      [0, 1],
      [1, 0.5],
      [2, 0.25],
    ]);
  });

  it('begin where the caller says that a beat does', () => {
    const { notes: placed } = notes([{ at: 1010, end: 1490 }], { beat: 500, start: 1000 });
    expect(beats([...placed])).toEqual([[0, 1]]);
  });

  it('need a beat that has a length', () => {
    expect(() => notes([], { beat: 0 })).toThrow(RangeError);
    expect(notes([], { beat: 500 })).toMatchObject({ notes: [], cost: 0 });
  });
});

/** Every way to divide the beats and to place the onsets, tried in turn; it shares no code with the planner. */
function leastByTrying(onsets: readonly number[], grid: readonly Division[]): number {
  const low = Math.floor(onsets[0] ?? 0) - 1;
  const high = Math.floor(onsets.at(-1) ?? 0) + 1;
  let least = Infinity;
  const divisions = new Map<number, Division>();
  const place = (i: number, before: number, cost: number): void => {
    if (i === onsets.length) {
      least = Math.min(least, cost);
      return;
    }
    const x = onsets[i] ?? 0;
    for (const [beat, { parts }] of divisions) {
      for (let part = 0; part < parts; part += 1) {
        const at = beat + part / parts;
        if (at < before || Math.abs(at - x) > 1) continue;
        place(i + 1, at, cost + (at - x) ** 2 + (at === before ? 4 : 0));
      }
    }
  };
  /** A beat that holds no onset costs nothing, so each beat is left out or divided in one way. */
  const divide = (beat: number, price: number): void => {
    if (price >= least) return;
    if (beat > high) {
      place(0, -Infinity, price);
      return;
    }
    divide(beat + 1, price);
    for (const division of grid) {
      divisions.set(beat, division);
      divide(beat + 1, price + division.price);
      divisions.delete(beat);
    }
  };
  divide(low, 0);
  return least;
}

describe('The least cost', () => {
  it('is what trying everything finds', { timeout: 60_000 }, () => {
    const onset = fc.integer({ min: 0, max: 200 }).map((each) => each / 100);
    fc.assert(
      fc.property(fc.array(onset, { minLength: 1, maxLength: 4 }), (drawn) => {
        const sorted = [...drawn].sort((a, b) => a - b);
        const apart = sorted.filter((x, i) => i === 0 || x - (sorted[i - 1] ?? 0) > TOGETHER);
        const played = apart.map((at) => ({ at, end: at + 1 }));
        const { cost } = notes(played, { beat: 1 });
        expect(cost).toBeCloseTo(leastByTrying(apart, SIMPLE), 9);
      }),
      { numRuns: 150, seed: 20261128 },
    );
  });

  it('of equal ones the earlier place is taken', () => {
    const { notes: placed } = notes([{ at: 0.25, end: 1 }], {
      beat: 1,
      grid: [{ parts: 2, price: 0 }],
    });
    expect(placed[0]?.at).toBe(0);
  });

  it('stays as it is where everything stands on the grid', () => {
    const grid = fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(grid, (steps) => {
        let at = 0;
        const written = steps.map((step) => {
          const note = { at, end: at + step / 4 };
          at += step / 4;
          return note;
        });
        const found = notes(written, { beat: 1 }).notes;
        expect(found.map((note) => note.at / QUARTER)).toEqual(written.map((note) => note.at));
        expect(found.every(({ moved }) => moved === 0)).toBe(true);
      }),
      { numRuns: 100, seed: 20261128 },
    );
  });
});

it('a note is let go early by less than a rest, and overlaps by less than a note', () => {
  expect(OVERLAP).toBeLessThan(SHORTEST_REST);
});
