import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf } from '../pitch/pitch.ts';
import { plan, type LeftHandOptions } from './left-hand.ts';

function planned(chords: string, options: LeftHandOptions = {}) {
  const result = plan(chords.split(' '), options);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result;
}

const notes = (chords: string, options: LeftHandOptions = {}) =>
  planned(chords, options).notes.flat().join(' ');
const fingers = (chords: string) => planned(chords).fingers.flat().join(' ');

describe('The left hand of a first level', () => {
  it('in G has C3 D3 E3 G3 under 5 4 3 1 and never shifts (common practice)', () => {
    const result = planned('C D Em G');
    expect(result.notes.flat()).toEqual(['C3', 'D3', 'E3', 'G3']);
    expect(result.fingers.flat()).toEqual([5, 4, 3, 1]);
    expect(result.shifts).toBe(0);
    expect(result.words).toEqual(['little finger on the C below middle C: C 5, D 4, E 3, G thumb']);
  });

  // IV V vi and I of a key span a fifth: one place, 5 4 3 1, in every key.
  it.each([
    ['C', 'F G Am C', 'F2 G2 A2 C3'],
    ['Db', 'Gb Ab Bbm Db', 'Gb2 Ab2 Bb2 Db3'],
    ['D', 'G A Bm D', 'G2 A2 B2 D3'],
    ['Eb', 'Ab Bb Cm Eb', 'Ab2 Bb2 C3 Eb3'],
    ['E', 'A B C#m E', 'A2 B2 C#3 E3'],
    ['F', 'Bb C Dm F', 'Bb2 C3 D3 F3'],
    ['F#', 'B C# D#m F#', 'B2 C#3 D#3 F#3'],
    ['G', 'C D Em G', 'C3 D3 E3 G3'],
    ['Ab', 'Db Eb Fm Ab', 'Db2 Eb2 F2 Ab2'],
    ['A', 'D E F#m A', 'D2 E2 F#2 A2'],
    ['Bb', 'Eb F Gm Bb', 'Eb2 F2 G2 Bb2'],
    ['B', 'E F# G#m B', 'E2 F#2 G#2 B2'],
  ])('%s: %s', (_, chords, expected) => {
    expect(notes(chords)).toBe(expected);
    expect(fingers(chords)).toBe('5 4 3 1');
    expect(planned(chords).shifts).toBe(0);
  });

  it('plays the slash bass where one is written', () => {
    expect(notes('C G/B Am C/G')).toBe('C3 B2 A2 G2');
  });

  it('shifts where the roots span more than a fifth, and says how', () => {
    const result = planned('C D E F# G# A#');
    expect(result.shifts).toBeGreaterThan(0);
    expect(result.shifts).toBe(result.positions.length - 1);
    expect(result.words.at(-1)).toMatch(/^the hand shifts (up|down) /);
  });

  it('stays below the right hand', () => {
    const right = [['E3', 'G3', 'C4']];
    expect(notes('C', { right })).toBe('C3');
    expect(notes('C', { right, gap: 5 })).toBe('C2');
    const high = plan(['C'], { right: [['C2', 'E2', 'G2']] });
    expect(high).toMatchObject({ ok: false, problems: [{ code: 'no-bass-note' }] });
  });

  it('says which chord it cannot read', () => {
    const result = plan(['C', 'Xyz', 'N.C.']);
    expect(result).toMatchObject({ ok: false });
    if (!result.ok)
      expect(result.problems.map(({ message }) => message.slice(0, 12))).toEqual([
        'Chord 2, Xyz',
        'Chord 3, N.C',
      ]);
  });

  it('of no chords is empty', () => {
    expect(plan([])).toMatchObject({ ok: true, notes: [], fingers: [], positions: [], shifts: 0 });
  });
});

const ROOTS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

/**
 * Fewest places, each a fifth wide, that hold the notes in their order: every way to cut the row is
 * tried.
 */
function fewestPlaces(keys: readonly number[]): number {
  if (keys.length === 0) return 0;
  let fewest = Infinity;
  for (let end = 1; end <= keys.length; end++) {
    const here = keys.slice(0, end);
    if (Math.max(...here) - Math.min(...here) > 7) break;
    fewest = Math.min(fewest, 1 + fewestPlaces(keys.slice(end)));
  }
  return fewest;
}

describe('Against every choice of octaves', () => {
  it('it shifts least, then moves least, then lies nearest to C3', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(11), { minLength: 1, maxLength: 6 }), (roots) => {
        const result = planned(roots.map((root) => ROOTS[root]).join(' '));
        const octaves = roots.map((root) =>
          [36, 48].map((c) => c + root).filter((key) => key <= 55),
        );
        const every = octaves.reduce<number[][]>(
          (rows, keys) => rows.flatMap((row) => keys.map((key) => [...row, key])),
          [[]],
        );
        const ranks = (keys: readonly number[]) => [
          fewestPlaces(keys) - 1,
          keys.slice(1).reduce((sum, key, i) => sum + Math.abs(key - (keys[i] ?? 0)), 0),
          keys.reduce((sum, key) => sum + Math.abs(key - 48), 0),
        ];
        const best = every
          .map(ranks)
          .sort(
            (a, b) =>
              (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0) || (a[2] ?? 0) - (b[2] ?? 0),
          )[0];
        expect(ranks(result.notes.flat().map(midiOf))).toEqual(best);
        expect([result.shifts, result.total]).toEqual(best?.slice(0, 2));
      }),
      { numRuns: 600, seed: 12 },
    );
  });

  it('in one place one key has one finger, and a higher key never a finger nearer the little one', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(11), { minLength: 1, maxLength: 12 }), (roots) => {
        const { positions } = planned(roots.map((root) => ROOTS[root]).join(' '));
        for (const { keys, lowest } of positions) {
          expect(keys[0]).toEqual({ note: lowest, finger: 5 });
          const fingers = keys.map((key) => key.finger);
          expect(fingers).toEqual([...fingers].sort((a, b) => b - a));
        }
      }),
      { numRuns: 400, seed: 13 },
    );
  });
});
