import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import * as Reduction from '../reduction.ts';
import type { Score, Ticks } from '../score.ts';
import { endOf } from '../time.ts';
import { harmoniesOf, type Harmony } from './harmony.ts';
import { bestReading } from './optimum.ts';
import { leastAlone } from './playing-alone.ts';
import { KIND_PRICE, THINNING } from './prices.ts';
import { problemOf, type Problem } from './problem.ts';
import { textureOf } from './texture.ts';

/** Four voices, low to high. */
const BEATS = ['C3 G3 E4 C5', 'F3 F3 C4 A4', 'G2 G3 D4 B4', 'A2 A3 E4 C5', 'D3 F3 D4 A4', 'E3 G3 C4 C5', 'G2 F3 D4 B4', 'E3 G#3 E4 B4'] as const; // prettier-ignore
const song = fc.record({
  beats: fc.array(fc.constantFrom(...BEATS), { minLength: 2, maxLength: 8 }),
  meter: fc.constantFrom('4/4', '3/4', '2/2'),
});

function scoreOf({ beats, meter }: { beats: readonly string[]; meter: string }): Score {
  const voice = (which: number) => beats.map((beat) => beat.split(' ')[which] ?? '').join(' ');
  return buildScore({ key: 'C', meter, voices: { S: voice(3), A: voice(2), T: voice(1), B: voice(0) } }); // prettier-ignore
}

type Played = readonly { readonly harmony: number; readonly at: Ticks; readonly end: Ticks }[];

/** Every way to play every bar with one of its chords, or two. */
function everyWay(score: Score, harmonies: readonly Harmony[], strong: (at: Ticks) => boolean) {
  const last = harmonies.length - 1;
  return score.bars.reduce<Played[]>(
    (ways, bar) => {
      const end = bar.at + bar.length;
      const here = harmonies.flatMap((each, place) => each.at < end && each.end > bar.at ? [place] : []); // prettier-ignore
      const bars: Played[] = here.map((harmony) => [{ harmony, at: bar.at, end }]);
      for (const second of here.slice(1)) {
        const change = harmonies[second]?.at ?? 0;
        const closes = second === last && (harmonies[last]?.end ?? 0) <= end;
        if (!strong(change) && !closes) continue;
        for (const first of here.filter((each) => each < second)) {
          bars.push([
            { harmony: first, at: bar.at, end: change },
            { harmony: second, at: change, end },
          ]);
        }
      }
      return ways.flatMap((way) => bars.map((each) => [...way, ...each]));
    },
    [[]],
  );
}

const FALLS = ['CF', 'FBb', 'GC', 'DG', 'AD', 'EA', 'BE'];
const leads = (from: Harmony | undefined, to: Harmony | undefined): boolean =>
  from !== undefined &&
  to !== undefined &&
  ['major', 'dominant'].includes(from.chord.kind) &&
  FALLS.includes(from.chord.root + to.chord.root);

function priceOf(problem: Problem, harmonies: readonly Harmony[], way: Played): number {
  const at = (place: number) => harmonies[place] as Harmony;
  const { bars } = problem.texture.score;
  let points = 0;
  way.forEach((each, place) => {
    const { chord, candidate } = at(each.harmony);
    points += KIND_PRICE[chord.kind] ?? 0;
    problem.stretches.forEach((stretch, number) => {
      if (stretch.at < each.at || stretch.at >= each.end) return;
      const price = problem.price(number, candidate);
      points += price.outside + price.rootAbsent;
    });
    const next = way[place + 1];
    const inside = next !== undefined && !bars.some((bar) => bar.at === next.at);
    if (inside) points += THINNING.second;
    // The chord before a change, or before a bar line, was a dominant to what follows, and is left out.
    const before = harmonies.findIndex((harmony) => harmony.end === each.end);
    const missed = before >= 0 && before !== each.harmony && leads(harmonies[before], harmonies[before + 1]); // prettier-ignore
    if (missed) points += THINNING.cadenceAlone;
    // What a second chord costs holds its change.
    if (!next || inside || next.harmony === each.harmony) return;
    const same = chord.root === at(next.harmony).chord.root && chord.kind === at(next.harmony).chord.kind; // prettier-ignore
    points += same ? THINNING.bass : THINNING.change;
  });
  return points;
}

describe('Playing alone', () => {
  it('has the cheapest chords of all ways to play each bar with one or two', () => {
    fc.assert(
      fc.property(song, (small) => {
        const score = scoreOf(small);
        const problem = problemOf(textureOf(score));
        const harmonies = harmoniesOf(problem, bestReading(problem).segments);
        const strong = (at: Ticks) => problem.texture.pulse.strengthAt(at) >= 2;
        const last = harmonies.length - 1;
        const before = harmonies[last - 1];
        const closes =
          before !== undefined &&
          strong(before.at) &&
          ((before.chord.root === 'G' && harmonies[last]?.chord.root === 'C') ||
            leads({ ...before, chord: { ...before.chord, kind: 'major' } }, harmonies[last]) ||
            before.chord.kind.includes('dim'));
        const must = closes ? [last - 1, last] : [last];
        // Where a chord that must stay lies over a bar line it counts in the bar in which it ends.
        const holds = (way: Played) =>
          must.every((place) => {
            const bar = score.bars.find(({ at, length }) => at + length >= (harmonies[place]?.end ?? 0)); // prettier-ignore
            return way.some((each) => each.harmony === place && each.end > (bar?.at ?? 0) && each.at < (bar?.at ?? 0) + (bar?.length ?? 0)); // prettier-ignore
          });
        const prices = everyWay(score, harmonies, strong)
          .filter(holds)
          .map((way) => priceOf(problem, harmonies, way));
        const found = leastAlone(problem, harmonies);
        expect(found.points).toBe(Math.min(...prices));
        expect(priceOf(problem, harmonies, found.kept)).toBe(found.points);
      }),
      { numRuns: 200, seed: 20261128 },
    );
  });

  it('like every density has a chord at every moment, and ends as the voices do', () => {
    fc.assert(
      fc.property(song, (small) => {
        const score = scoreOf(small);
        const full = Reduction.chords(score, { density: 'beat' }).chords;
        for (const density of ['beat', 'half bar', 'bar', 'alone'] as const) {
          const { chords } = Reduction.chords(score, { density });
          let at = 0;
          for (const each of chords) {
            expect(each.at).toBe(at);
            at += each.length;
          }
          expect(at).toBe(endOf(score));
          expect(chords.at(-1)?.chord).toEqual(full.at(-1)?.chord);
        }
      }),
      { numRuns: 200, seed: 20261128 },
    );
  });
});
