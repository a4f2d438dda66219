import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { bestReading, readingPrice, segmentPrice } from './optimum.ts';
import { changePoints, endPoints, problemOf, type Problem, type Segment } from './problem.ts';
import { textureOf } from './texture.ts';

const PITCHES = {
  top: ['C5', 'D5', 'E5', 'G4'],
  middle: ['E4', 'F4', 'G4', 'r'],
  bass: ['C3', 'G2', 'F3', 'E3'],
} as const;

/** Every way to cut the stretches and every chord on every piece: no table, no pruning but what cannot stand. */
function everyReading(problem: Problem): { points: number; changes: number } {
  let best = { points: Infinity, changes: Infinity };
  const end = problem.stretches.length;
  const walk = (from: number, before: number | null, points: number, changes: number): void => {
    if (from === end) {
      if (points < best.points || (points === best.points && changes < best.changes)) {
        best = { points, changes };
      }
      return;
    }
    for (let to = from + 1; to <= Math.min(end, from + problem.longest); to += 1) {
      for (let candidate = 0; candidate < problem.candidates.length; candidate += 1) {
        const own = segmentPrice(problem, { from, to, candidate });
        if (own === null) continue;
        const change = before === null ? 0 : changePoints(problem, before, candidate, from);
        const ending = to === end ? endPoints(problem, before, candidate) : 0;
        const another = before === null || before === candidate ? 0 : 1;
        walk(to, candidate, points + own + change + ending, changes + another);
      }
    }
  };
  walk(0, null, 0, 0);
  return best;
}

function changesIn(segments: readonly Segment[]): number {
  return segments.filter((each, place) => {
    const before = segments[place - 1];
    return before !== undefined && before.candidate !== each.candidate;
  }).length;
}

describe('The reading of least price', () => {
  const beat = fc.record({
    top: fc.constantFrom(...PITCHES.top),
    middle: fc.constantFrom(...PITCHES.middle),
    bass: fc.constantFrom(...PITCHES.bass),
  });

  it('is the best of all readings, each weighed whole, on small scores', () => {
    fc.assert(
      fc.property(fc.array(beat, { minLength: 1, maxLength: 4 }), (beats) => {
        const voice = (name: keyof typeof PITCHES) => beats.map((each) => each[name]).join(' ');
        const score = buildScore({
          key: 'C',
          meter: '4/4',
          voices: { top: voice('top'), middle: voice('middle'), bass: voice('bass') },
        });
        const problem = problemOf(textureOf(score), [], 3);
        const found = bestReading(problem);
        expect(readingPrice(problem, found.segments)).toBe(found.points);
        expect({ points: found.points, changes: changesIn(found.segments) }).toEqual(
          everyReading(problem),
        );
      }),
      { numRuns: 150, seed: 20261125 },
    );
  });

  it('keeps a chord that a person wrote, and finds the best around it', () => {
    const score = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { top: 'E5 G4 D5 C5', middle: 'G4 E4 F4 E4', bass: 'C3 C3 G2 C3' },
    });
    const minor = { root: 'A', kind: 'minor', degrees: [], bass: null } as const;
    const texture = textureOf(score);
    const [from, to] = [texture.changes[1] ?? 0, texture.changes[2] ?? 0];
    const problem = problemOf(texture, [{ from, to, chord: minor }]);
    const { segments, points } = bestReading(problem);
    expect({ points, changes: changesIn(segments) }).toEqual(everyReading(problem));
    const written = segments.find((each) => problem.written.has(each.candidate));
    expect(written).toMatchObject({ from: 1, to: 2 });
    expect(problem.candidates[written?.candidate ?? 0]?.chord).toBe(minor);
  });
});
