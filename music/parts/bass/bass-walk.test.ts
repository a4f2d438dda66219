import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { leastLine, ownCost, turnCost, wayCost, type Candidate, type Step } from './bass-walk.ts';

const sign = (a: Candidate, b: Candidate) =>
  Math.sign(midiOf(b.pitch) - midiOf(a.pitch)) as -1 | 0 | 1;

/** What a whole line costs, added up item by item. */
function costOf(steps: readonly Step[], line: readonly Candidate[]): [number, number] {
  let cost = 0;
  line.forEach((here, i) => {
    const [step, before, next] = [steps[i] as Step, line[i - 1], line[i + 1]];
    cost += ownCost(step, here);
    if (!next) return;
    cost += wayCost(step, here, steps[i + 1] as Step, next);
    if (before) cost += turnCost(step, here, sign(before, here), sign(here, next));
  });
  return [cost, line.reduce((sum, { pitch }) => sum + midiOf(pitch), 0)];
}

/** Every line there is, tried one by one from the lowest candidates up: the first of the best. */
function bruteForce(steps: readonly Step[]): PitchName[] {
  const lines = steps.reduce<Candidate[][]>(
    (all, { candidates }) => {
      const low = [...candidates].sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch));
      return all.flatMap((line) => low.map((each) => [...line, each]));
    },
    [[]],
  );
  let best = lines[0] ?? [];
  let least = costOf(steps, best);
  for (const line of lines) {
    const cost = costOf(steps, line);
    if (cost[0] < least[0] || (cost[0] === least[0] && cost[1] < least[1]))
      [best, least] = [line, cost];
  }
  return best.map(({ pitch }) => pitch);
}

const candidate = fc.record({
  pitch: fc.constantFrom('E1', 'F1', 'G1', 'A1', 'Bb1', 'C2', 'D2', 'E2', 'G2', 'C3'),
  tone: fc.constantFrom('bass', 'fifth', 'chord', 'scale', 'chromatic'),
}) as fc.Arbitrary<Candidate>;
const step = fc.record(
  {
    role: fc.constantFrom('bass', 'again', 'strong', 'weak', 'leading', 'written', 'passing'),
    candidates: fc.uniqueArray(candidate, {
      minLength: 1,
      maxLength: 4,
      selector: ({ pitch }) => pitch,
    }),
    way: fc.integer({ min: -7, max: 7 }),
  },
  { requiredKeys: ['role', 'candidates'] },
) as fc.Arbitrary<Step>;

describe('a walking line', () => {
  it('costs the least of all there are, and of equal ones the deepest is taken', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
        expect(leastLine(steps)).toEqual(bruteForce(steps));
      }),
      { numRuns: 300 },
    );
  });

  it('goes up by step from C to F over four beats (common practice)', () => {
    const scale = (role: Step['role']): Step => ({
      role,
      candidates: ['F1', 'G1', 'A1', 'B1', 'C2', 'D2', 'E2', 'F2', 'G2'].map((pitch) => ({
        pitch,
        tone: 'CEG'.includes(pitch.charAt(0)) ? 'chord' : 'scale',
      })),
    });
    const only = (pitch: PitchName): Step => ({
      role: 'bass',
      candidates: [{ pitch, tone: 'bass' }],
    });
    const strong: Step = {
      role: 'strong',
      candidates: ['G1', 'C2', 'E2', 'G2'].map((pitch) => ({ pitch, tone: 'chord' })),
    };
    const line = leastLine([only('C2'), scale('weak'), strong, scale('leading'), only('F2')]);
    expect(line.join(' ')).toBe('C2 D2 E2 G2 F2');
  });
});
