import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Fingering, Pitches, RightHand } from '#music';
import type { RightHandOptions } from '#music';
import {
  KINDS,
  ROOTS,
  everyPath,
  leastMotion,
  motionBetween,
  symbolOf,
  type BruteChord,
  type Register,
} from '#test/support/brute-hand.ts';

/** The default of the planner: G3 to G5, an octave wide. */
const DEFAULT: Register = { low: 55, high: 79, reach: 12 };
const chord = fc.record({
  root: fc.nat(11),
  kind: fc.constantFrom(...Object.keys(KINDS)),
});
const triad = fc.record({ root: fc.nat(11), kind: fc.constantFrom('', 'm') });

function planned(chords: readonly BruteChord[], options: RightHandOptions = {}) {
  const plan = RightHand.plan(chords.map(symbolOf), options);
  if (!plan.ok) throw new Error(JSON.stringify(plan.problems));
  return plan;
}

type Planned = ReturnType<typeof planned>;

/** Each shape sounds its chord once within the register and reach, and the motions are what they say. */
function expectTrue(
  chords: readonly BruteChord[],
  plan: Planned,
  loop: boolean,
  register: Register,
) {
  const keys = plan.shapes.map((shape) => shape.notes.map(Pitches.midiOf));
  const classes = keys.map((shape) => shape.map((key) => key % 12).sort());
  expect(classes).toEqual(
    chords.map(({ root, kind }) => (KINDS[kind] ?? []).map((tone) => (root + tone) % 12).sort()),
  );
  const inside = keys.every((shape) => {
    const [low, high] = [Math.min(...shape), Math.max(...shape)];
    return low >= register.low && high <= register.high && high - low <= register.reach;
  });
  expect(inside).toBe(true);
  const motions = Array.from({ length: loop ? keys.length : keys.length - 1 }, (_, i) =>
    motionBetween(keys[i] ?? [], keys[(i + 1) % keys.length] ?? []),
  );
  expect(plan.moves.map((move) => move.motion)).toEqual(motions);
  expect(plan.total).toBe(motions.reduce((sum, each) => sum + each, 0));
}

describe('The right-hand plan against every path there is', () => {
  it('10,000 random sequences, of equal and unequal sizes, open and closed to loops, have least motion', () => {
    let count = 0;
    fc.assert(
      fc.property(fc.array(chord, { minLength: 1, maxLength: 5 }), fc.boolean(), (chords, loop) => {
        count++;
        const plan = planned(chords, { loop });
        expectTrue(chords, plan, loop, DEFAULT);
        expect(plan.total).toBe(leastMotion(chords, DEFAULT, loop));
      }),
      { numRuns: 10_000, seed: 20_261 },
    );
    expect(count).toBe(10_000);
  }, 120_000);

  it('so have 20 sequences of seven chords', () => {
    fc.assert(
      fc.property(fc.array(chord, { minLength: 7, maxLength: 7 }), fc.boolean(), (chords, loop) => {
        expect(planned(chords, { loop }).total).toBe(leastMotion(chords, DEFAULT, loop));
      }),
      { numRuns: 20, seed: 7 },
    );
  }, 120_000);

  it('in other registers and with a smaller or wider reach; or it says that there is no shape', () => {
    const register = fc.record({
      low: fc.integer({ min: 48, max: 62 }),
      width: fc.integer({ min: 8, max: 20 }),
      reach: fc.integer({ min: 7, max: 16 }),
    });
    const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
    const name = (key: number) => `${names[key % 12] ?? ''}${Math.floor(key / 12) - 1}`;
    fc.assert(
      fc.property(
        fc.array(chord, { minLength: 1, maxLength: 3 }),
        register,
        (chords, { low, width, reach }) => {
          const bounds = { low, high: low + width, reach };
          const plan = RightHand.plan(chords.map(symbolOf), {
            register: { low: name(low), high: name(low + width) },
            reach,
          });
          const least = leastMotion(chords, bounds);
          if (least === null) {
            expect(plan).toMatchObject({ ok: false });
            if (!plan.ok) expect(plan.problems[0]?.code).toBe('no-shape');
          } else if (plan.ok) {
            expectTrue(chords, plan, false, bounds);
            expect(plan.total).toBe(least);
          } else throw new Error(JSON.stringify(plan.problems));
        },
      ),
      { numRuns: 800, seed: 99 },
    );
  }, 120_000);
});

/** Sharps for all: the fingers of a major or minor triad do not depend on its spelling. */
function fingersOf(keys: readonly number[]): number[] {
  const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
  return Fingering.ofShape(
    keys.map((key) => `${names[key % 12] ?? ''}${Math.floor(key / 12) - 1}`),
    'right',
  );
}

const pairs = <T>(list: readonly T[]) =>
  list.slice(1).map((next, i) => [list[i] as T, next] as const);
const total = (numbers: readonly number[]) => numbers.reduce((sum, each) => sum + each, 0);

function exchanged(a: readonly number[], b: readonly number[]): number {
  const [from, to] = [fingersOf(a), fingersOf(b)];
  return Math.max(
    to.filter((finger) => !from.includes(finger)).length,
    from.filter((finger) => !to.includes(finger)).length,
  );
}

function kept(a: readonly number[], b: readonly number[]): number {
  const [from, to] = [fingersOf(a), fingersOf(b)];
  return a.filter((key, i) => b.includes(key) && to[b.indexOf(key)] === from[i]).length;
}

/** The ranks of the tie-break, then the keys themselves from the first place on. */
function tieBreak(path: readonly (readonly number[])[]): number[] {
  return [
    total(pairs(path).map(([a, b]) => exchanged(a, b))),
    total(
      path.map((shape) =>
        Math.abs((shape[0] ?? 0) + (shape.at(-1) ?? 0) - DEFAULT.low - DEFAULT.high),
      ),
    ),
    total(path.map((shape) => shape[0] ?? 0)),
    ...path.flat(),
  ];
}

function less(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((each, i) => each !== b[i]);
  return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
}

function bestOf(paths: readonly number[][][], ranks: (path: number[][]) => number[]): number[][] {
  let best = paths[0] ?? [];
  let bestRanks = ranks(best);
  for (const path of paths) {
    const here = ranks(path);
    if (less(here, bestRanks)) [best, bestRanks] = [path, here];
  }
  return best;
}

const motionOf = (path: readonly number[][]) =>
  total(pairs(path).map(([a, b]) => motionBetween(a, b)));

describe('Of equally short paths the stated one', () => {
  it('fewest fingers exchanged, nearest to the middle, lowest, lower first', () => {
    fc.assert(
      fc.property(fc.array(triad, { minLength: 1, maxLength: 3 }), (chords) => {
        const best = bestOf(everyPath(chords, DEFAULT), (path) => [
          motionOf(path),
          ...tieBreak(path),
        ]);
        const plan = planned(chords);
        expect(plan.shapes.map((shape) => shape.notes.map(Pitches.midiOf))).toEqual(best);
      }),
      { numRuns: 400, seed: 5 },
    );
  }, 60_000);
});

describe('Goal: the tune', () => {
  it('first the tune on top, then fingers kept, then motion, then the tie-break', () => {
    const place = fc.record({
      chord: triad,
      // A tone of the chord in some octave, its bare name, a stranger, or nothing.
      tone: fc.nat(2),
      octave: fc.constantFrom(3, 4, 5, null),
      sung: fc.constantFrom('tone', 'stranger', 'nothing'),
    });
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 3 }), (places) => {
        const chords = places.map((each) => each.chord);
        const tune = places.map(({ chord: { root, kind }, tone, octave, sung }) => {
          if (sung === 'nothing') return null;
          const note = ROOTS[(root + (sung === 'stranger' ? 1 : (KINDS[kind]?.[tone] ?? 0))) % 12];
          return `${note ?? ''}${octave ?? ''}`;
        });
        const paths = everyPath(chords, DEFAULT);
        const missed = (path: readonly number[][]) =>
          path.filter((shape, i) => {
            const sung = tune[i] ?? null;
            if (sung === null) return false;
            const pitch = Pitches.parsePitch(sung)?.midi ?? null;
            const note = pitch === null ? Pitches.pitchClassOf(sung) : pitch % 12;
            const exact = pitch !== null && paths.some((each) => each[i]?.at(-1) === pitch);
            const top = shape.at(-1) ?? 0;
            return exact ? top !== pitch : top % 12 !== note;
          }).length;
        const best = bestOf(paths, (path) => [
          missed(path),
          -total(pairs(path).map(([a, b]) => kept(a, b))),
          motionOf(path),
          ...tieBreak(path),
        ]);
        const plan = planned(chords, { goal: 'tune', tune });
        expect(plan.shapes.map((shape) => shape.notes.map(Pitches.midiOf))).toEqual(best);
        const strangers = places.filter((each) => each.sung === 'stranger');
        expect(plan.warnings).toHaveLength(strangers.length);
      }),
      { numRuns: 400, seed: 11 },
    );
  }, 60_000);
});
