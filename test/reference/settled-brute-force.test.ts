import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Fingering, Pitches, RightHand } from '#music';
import {
  KINDS,
  everyShape,
  leastMotion,
  motionBetween,
  symbolOf,
  type BruteChord,
} from '#test/support/brute-hand.ts';

/** The default of the planner: G3 to G5, an octave wide. */
const REGISTER = { low: 55, high: 79, reach: 12 };
const chord = fc.record({ root: fc.nat(11), kind: fc.constantFrom(...Object.keys(KINDS)) });
const triad = fc.record({ root: fc.nat(11), kind: fc.constantFrom('', 'm') });

/** Songs: some chords, each as often as it likes, in any order. */
function songs(chords: fc.Arbitrary<BruteChord>, most: number, longest: number) {
  return fc
    .array(chords, { minLength: 1, maxLength: most })
    .chain((palette) =>
      fc.array(fc.constantFrom(...palette), { minLength: 1, maxLength: longest }),
    );
}

const nameOf = ({ root, kind }: BruteChord) =>
  (KINDS[kind] ?? [])
    .map((tone) => (root + tone) % 12)
    .sort((a, b) => a - b)
    .join();

/** Every way to give each different chord one shape, as the path it makes. */
function everySettledPath(chords: readonly BruteChord[]): number[][][] {
  const different = [...new Map(chords.map((each) => [nameOf(each), each])).values()];
  let choices: Map<string, number[]>[] = [new Map()];
  for (const each of different)
    choices = choices.flatMap((before) =>
      everyShape(each, REGISTER).map((shape) => new Map([...before, [nameOf(each), shape]])),
    );
  return choices.map((choice) => chords.map((each) => choice.get(nameOf(each)) ?? []));
}

function steps<T>(path: readonly T[], loop: boolean): (readonly [T, T])[] {
  const count = loop ? path.length : path.length - 1;
  return Array.from(
    { length: count },
    (_, i) => [path[i] as T, path[(i + 1) % path.length] as T] as const,
  );
}

const total = (numbers: readonly number[]) => numbers.reduce((sum, each) => sum + each, 0);
const motionOf = (path: number[][], loop: boolean) =>
  total(steps(path, loop).map(([a, b]) => motionBetween(a, b)));

function settled(chords: readonly BruteChord[], loop = false) {
  const plan = RightHand.plan(chords.map(symbolOf), { goal: 'settled', loop });
  if (!plan.ok) throw new Error(JSON.stringify(plan.problems));
  return { ...plan, keys: plan.shapes.map((shape) => shape.notes.map(Pitches.midiOf)) };
}

describe('One shape per chord, against every choice of shapes there is', () => {
  it('3,000 random songs of up to three chords, open and closed to loops, have least motion', () => {
    fc.assert(
      fc.property(songs(chord, 3, 9), fc.boolean(), (chords, loop) => {
        const plan = settled(chords, loop);
        const least = Math.min(...everySettledPath(chords).map((path) => motionOf(path, loop)));
        expect(plan.total).toBe(least);
        expect(motionOf(plan.keys, loop)).toBe(least);
        expect(plan.settled?.proof).toBe('optimal');
        const shapes = new Map(chords.map((each, i) => [nameOf(each), plan.keys[i]]));
        expect(plan.keys).toEqual(chords.map((each) => shapes.get(nameOf(each))));
      }),
      { numRuns: 3000, seed: 20_262 },
    );
  }, 120_000);

  it('of equals: fewest fingers exchanged, nearest the middle, lowest, lower shape first', () => {
    const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
    // The fingers of a major or minor triad do not depend on its spelling.
    const known = new Map<string, readonly number[]>();
    const fingers = (keys: readonly number[]) => {
      const found = known.get(keys.join());
      if (found) return found;
      const notes = keys.map((key) => `${names[key % 12] ?? ''}${Math.floor(key / 12) - 1}`);
      const made = Fingering.ofShape(notes, 'right');
      known.set(keys.join(), made);
      return made;
    };
    const exchanged = (a: readonly number[], b: readonly number[]) =>
      Math.max(
        fingers(b).filter((finger) => !fingers(a).includes(finger)).length,
        fingers(a).filter((finger) => !fingers(b).includes(finger)).length,
      );
    const ranks = (path: number[][], loop: boolean) => [
      motionOf(path, loop),
      total(steps(path, loop).map(([a, b]) => exchanged(a, b))),
      total(
        path.map((keys) =>
          Math.abs((keys[0] ?? 0) + (keys.at(-1) ?? 0) - REGISTER.low - REGISTER.high),
        ),
      ),
      total(path.map((keys) => keys[0] ?? 0)),
      ...path.flat(),
    ];
    const less = (a: readonly number[], b: readonly number[]) => {
      const at = a.findIndex((each, i) => each !== b[i]);
      return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
    };
    fc.assert(
      fc.property(songs(triad, 3, 7), fc.boolean(), (chords, loop) => {
        const paths = everySettledPath(chords);
        let best = paths[0] ?? [];
        let bestRanks = ranks(best, loop);
        for (const path of paths) {
          const here = ranks(path, loop);
          if (less(here, bestRanks)) [best, bestRanks] = [path, here];
        }
        expect(settled(chords, loop).keys).toEqual(best);
      }),
      { numRuns: 600, seed: 12 },
    );
  }, 120_000);
});

describe('One shape per chord, beside the nearest way', () => {
  it('never moves less; as much where no chord comes twice; and says how much the nearest moves', () => {
    fc.assert(
      fc.property(songs(chord, 4, 5), fc.boolean(), (chords, loop) => {
        const plan = settled(chords, loop);
        const nearest = leastMotion(chords, REGISTER, loop) ?? NaN;
        expect(plan.settled?.nearest).toBe(nearest);
        expect(plan.total).toBeGreaterThanOrEqual(nearest);
        const recurs = new Set(chords.map(nameOf)).size < chords.length;
        if (!recurs) expect(plan.total).toBe(nearest);
      }),
      { numRuns: 400, seed: 13 },
    );
  }, 120_000);

  it('is another way where the nearest one wanders through a chord’s inversions', () => {
    const chords = 'C F Bb Eb Ab Db Gb B E A D G C'.split(' ');
    const plan = RightHand.plan(chords, { goal: 'settled' });
    const nearest = RightHand.plan(chords);
    if (!plan.ok || !nearest.ok) throw new Error();
    expect(plan.shapes.at(-1)).toEqual(plan.shapes[0]);
    expect(nearest.shapes.at(-1)).not.toEqual(nearest.shapes[0]);
    expect(plan.settled).toEqual({ nearest: nearest.total, proof: 'optimal' });
    expect(plan.total).toBeGreaterThan(nearest.total);
  });
});
