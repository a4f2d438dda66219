import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { write } from '../../pitch/chord-symbol.ts';
import * as Reduction from '../reduction.ts';
import { QUARTER, type Bar, type Score, type Ticks } from '../score.ts';
import { barLength, endOf, meterAt } from '../time.ts';
import { writtenChords } from './corrections.ts';
import { harmoniesOf, type Harmony } from './harmony.ts';
import { everyChord, leastPriced, type Thinner } from './leaving-out.ts';
import { bestReading } from './optimum.ts';
import { CHANGE_PRICE, KIND_PRICE, PRICES, THINNING } from './prices.ts';
import { problemOf, type Problem } from './problem.ts';
import { textureOf } from './texture.ts';
import { joined } from './thinning.ts';

/** Four voices, low to high, of a chord or of something that is none. */
const BEATS = [
  'C3 G3 E4 C5',
  'F3 F3 C4 A4',
  'G2 G3 D4 B4',
  'A2 A3 E4 C5',
  'D3 F3 D4 A4',
  'E3 G3 C4 C5',
  'B2 G3 D4 G4',
  'G2 F3 D4 B4',
  'E3 G#3 E4 B4',
  'C3 F3 D4 B4',
] as const;
const song = fc.record({
  beats: fc.array(fc.constantFrom(...BEATS), { minLength: 2, maxLength: 10 }),
  meter: fc.constantFrom('4/4', '3/4', '2/2', 'none'),
  pickup: fc.boolean(),
  /** A chord that a person wrote, on this beat. */
  written: fc.option(fc.nat(9), { freq: 2, nil: null }),
});
type Song = typeof song extends fc.Arbitrary<infer T> ? T : never;

function scoreOf({ beats, meter, pickup, written }: Song): Score {
  const size = meter === '3/4' ? 3 : 4;
  const barred = (voice: number) =>
    beats
      .map((beat, place) => {
        const line = place > 0 && (place + (pickup ? size - 1 : 0)) % size === 0 ? '| ' : '';
        return line + (beat.split(' ')[voice] ?? '');
      })
      .join(' ');
  const plain = (voice: number) => beats.map((beat) => beat.split(' ')[voice] ?? '').join(' ');
  const voices = { S: barred(3), A: plain(2), T: plain(1), B: plain(0) };
  const score = buildScore({ key: 'C', meter, voices });
  if (written === null || written >= beats.length) return score;
  const mine = { root: 'A', kind: 'minor', degrees: [], bass: null } as const;
  const found = Reduction.withChords(score, { density: 'beat' });
  return Reduction.correct(found, written * QUARTER, mine);
}

function readingOf(score: Score): { problem: Problem; harmonies: Harmony[] } {
  const fixed = writtenChords(score);
  const edges = fixed.flatMap(({ from, to }) => [from, to]);
  const problem = problemOf(textureOf(score, edges), fixed);
  return { problem, harmonies: harmoniesOf(problem, bestReading(problem).segments) };
}

/** Where bars open: every bar; without a meter every two quarters of a line, the odd one joined to the two before. */
function opensAt(score: Score, at: Ticks): boolean {
  return score.bars.some((bar) => {
    if (at === bar.at) return true;
    const inside = at - bar.at;
    const free = barLength(meterAt(score, bar.at)) === null;
    const fits = inside > 0 && inside + 2 * QUARTER <= bar.length;
    return free && fits && inside % (2 * QUARTER) === 0;
  });
}

/** The price of keeping these chords, worked out whole; Infinity where they may not be kept alone. */
function priceOf(
  { problem, harmonies }: { problem: Problem; harmonies: readonly Harmony[] },
  kept: readonly number[],
  thinner: Thinner,
): number {
  const { score, pulse } = problem.texture;
  const at = (place: number) => harmonies[place] as Harmony;
  const same = (a: Harmony, b: Harmony) =>
    !a.written && !b.written && write(a.chord) === write(b.chord);
  const subset = (a: Harmony, b: Harmony) => a.tones.every((tone) => b.tones.includes(tone));
  let points = 0;
  kept.forEach((index, place) => {
    const held = at(index);
    const next = kept[place + 1];
    const end = next === undefined ? endOf(score) : at(next).at;
    points += KIND_PRICE[held.chord.kind] ?? 0;
    problem.stretches.forEach((stretch, number) => {
      if (stretch.at < held.at || stretch.at >= end) return;
      const price = problem.price(number, held.candidate);
      points += price.outside + price.rootAbsent;
      const other = stretch.sound - (stretch.bass.get(held.chord.bass ?? '') ?? 0);
      const wrong = held.chord.bass === null || next === undefined ? 0 : other / stretch.beat;
      points += Math.round(PRICES.thirdInBass * wrong);
    });
    // Dominants left out, by what they lead to: the next chord, or one that comes in on a bar.
    for (let out = index + 1; out < (next ?? harmonies.length); out += 1) {
      const [dominant, goal] = [at(out), harmonies[out + 1]];
      if (!goal || subset(dominant, held) || subset(held, dominant)) continue;
      const falls = ['CF', 'FBb', 'GC', 'DG', 'AD', 'EA', 'BE'].includes(
        dominant.chord.root + goal.chord.root,
      );
      const leads = falls && ['major', 'dominant'].includes(dominant.chord.kind);
      const opens = score.bars.some((bar) => bar.at === goal.at);
      if (leads && opens) points += THINNING.cadence;
      else if (leads && out + 1 === next) points += THINNING.cadenceWithin;
    }
    points += tunePoints(score, harmonies, held, end);
    if (!score.bars.some((bar) => bar.at === held.at && !isPickup(score, bar))) {
      const crossed = score.bars.filter((bar) => bar.at > held.at && bar.at < end);
      for (const bar of crossed) {
        const own = chordAt(harmonies, bar.at);
        if (!subset(own, held) && !subset(held, own)) points += THINNING.syncopated;
      }
    }
    let run = 0;
    for (const each of harmonies.slice(index + 1, next ?? harmonies.length)) {
      run = subset(each, held) || subset(held, each) ? 0 : run + each.end - each.at;
      if (run > (barLength(meterAt(score, each.at)) ?? 2 * QUARTER)) points = Infinity;
    }
    if (next === undefined) return;
    const after = at(next);
    if (same(held, after)) return;
    const chord = ({ chord: { root, kind } }: Harmony) => `${root} ${kind}`;
    points += chord(held) === chord(after) ? THINNING.bass : THINNING.change;
    const free = barLength(meterAt(score, after.at)) === null;
    if (free && after.at - held.at < 2 * QUARTER) points += THINNING.crowded;
    if (opensAt(score, after.at)) return;
    const strength = pulse.strengthAt(after.at);
    points += free || thinner === 'bar' ? THINNING.second : CHANGE_PRICE[strength];
    const hasHalf = barLength(meterAt(score, after.at)) === 4 * QUARTER;
    if (hasHalf && thinner === 'bar' && strength < 3) points += THINNING.weak;
    if (free) return;
    const bar = score.bars.findLast((each) => each.at <= after.at)?.at ?? 0;
    const sounding = kept
      .slice(0, place + 2)
      .filter((each, nth, all) => nth === 0 || !same(at(all[nth - 1] as number), at(each)))
      .filter((each, nth, all) => at(each).at >= bar || (all[nth + 1] ?? 0) === 0 || at(all[nth + 1] as number).at > bar); // prettier-ignore
    const off = thinner === 'bar' && strength < 2;
    if (sounding.length > 2 || off) points += THINNING.crowded;
  });
  return points + THINNING.ignored * ignoredBars(score, harmonies, kept);
}

const chordAt = (harmonies: readonly Harmony[], at: Ticks): Harmony =>
  harmonies.findLast((each) => each.at <= at) as Harmony;

const isPickup = (score: Score, { number }: Bar): boolean =>
  number === 0 && barLength(meterAt(score, 0)) !== null;

/** Notes of the tune that sound where a bar begins or has its half, of the chord there and not of the one held. */
function tunePoints(
  score: Score,
  harmonies: readonly Harmony[],
  held: Harmony,
  end: Ticks,
): number {
  const tune = score.voices.find(({ id }) => id === score.melody)?.notes ?? [];
  let points = 0;
  for (const bar of score.bars) {
    const length = barLength(meterAt(score, bar.at));
    // A pickup is the end of a bar.
    const start = isPickup(score, bar) && length !== null ? bar.at + bar.length - length : bar.at;
    const half = length === 4 * QUARTER ? [[start + length / 2, 3] as const] : [];
    for (const [at, strength] of [[start, 4] as const, ...half]) {
      if (at < held.at || at >= end) continue;
      const note = tune.find((each) => each.at <= at && at < each.at + each.length);
      const name = note?.pitches[0]?.replace(/-?\d+$/, '') ?? '';
      const own = chordAt(harmonies, at);
      if (own.tones.includes(name) && !held.tones.includes(name)) {
        points += THINNING.tune[strength] ?? 0;
      }
    }
  }
  return points;
}

/** Bars (in free meter pairs of quarters) whose chords agree with the full reading for a third of their time or less, beat by beat. */
function ignoredBars(score: Score, harmonies: readonly Harmony[], kept: readonly number[]): number {
  const whole = (a: Harmony, b: Harmony) => a.tones.every((tone) => b.tones.includes(tone));
  const songEnd = endOf(score);
  const opening: number[] = [];
  for (let at = 0; at < songEnd; at += QUARTER) if (opensAt(score, at)) opening.push(at);
  return opening.filter((from, place) => {
    const to = opening[place + 1] ?? songEnd;
    let agreed = 0;
    for (let at = from; at < to; at += QUARTER) {
      const held = kept.map((each) => harmonies[each] as Harmony);
      const [own, mine] = [chordAt(harmonies, at), chordAt(held, at)];
      if (whole(own, mine) || whole(mine, own)) agreed += QUARTER;
    }
    return agreed / (to - from) <= 1 / 3;
  }).length;
}

/** Every set of chords that holds what must stay. */
function leastOf(
  reading: { problem: Problem; harmonies: readonly Harmony[] },
  thinner: Thinner,
  allowed: readonly number[],
): { points: number; kept: readonly number[] } {
  const { harmonies, problem } = reading;
  const last = harmonies.length - 1;
  const before = harmonies[last - 1];
  const final = harmonies[last]?.chord.root;
  const leads = { C: 'GB', F: 'CE', G: 'DF#', A: 'EG#', D: 'AC#', E: 'BD#', B: 'F#A#' }[final ?? ''] ?? ''; // prettier-ignore
  const cadence =
    before !== undefined &&
    problem.texture.pulse.strengthAt(before.at) >= 2 &&
    (leads.startsWith(before.chord.root) ||
      (leads.endsWith(before.chord.root) && before.chord.kind.includes('dim')));
  const stays = (place: number) =>
    place === 0 ||
    place === last ||
    (cadence && place === last - 1) ||
    harmonies[place]?.written === true ||
    harmonies[place - 1]?.written === true;
  const must = allowed.filter(stays);
  const loose = allowed.filter((place) => !must.includes(place));
  let best = { points: Infinity, kept: [] as readonly number[] };
  // Of two with one price and one length, the one that is first, from the last chord backwards.
  const backwards = (chords: readonly number[]) => [...chords].reverse();
  const isFirst = (one: readonly number[], other: readonly number[]): boolean => {
    const place = backwards(one).findIndex((each, nth) => each !== backwards(other)[nth]);
    return place >= 0 && Number(backwards(one)[place]) < Number(backwards(other)[place]);
  };
  for (let bits = 0; bits < 2 ** loose.length; bits += 1) {
    const kept = [...must, ...loose.filter((_, place) => (bits >> place) % 2 === 1)];
    kept.sort((a, b) => a - b);
    const points = priceOf(reading, kept, thinner);
    const fewer = kept.length - best.kept.length;
    const tie = fewer < 0 || (fewer === 0 && isFirst(kept, best.kept));
    if (points < best.points || (points === best.points && tie)) best = { points, kept };
  }
  return best;
}

describe('Leaving changes out', () => {
  it('finds the least price of all sets of chords, each weighed whole, on small songs', () => {
    fc.assert(
      fc.property(song, (small) => {
        const reading = readingOf(scoreOf(small));
        const { problem, harmonies } = reading;
        let fuller: ReturnType<typeof everyChord> = everyChord(harmonies);
        for (const thinner of ['half bar', 'bar'] as const) {
          const found = leastPriced(problem, harmonies, thinner, fuller);
          const kept = found.kept.map(({ harmony }) => harmony);
          const least = leastOf(
            reading,
            thinner,
            fuller.map(({ harmony }) => harmony),
          );
          expect({ points: found.points, kept }).toEqual(least);
          expect(priceOf(reading, kept, thinner)).toBe(found.points);
          fuller = joined(found.kept, harmonies);
        }
      }),
      { numRuns: 300, seed: 20261128 },
    );
  });

  it('keeps chords where they begin: bar in half bar in every change, and nobody plays a chord too soon', () => {
    fc.assert(
      fc.property(song, (small) => {
        const score = scoreOf(small);
        const at = (density: Reduction.Density) =>
          Reduction.chords(score, { density }).chords.map(
            (each) => `${each.at} ${each.chord ? write(each.chord) : 'N.C.'}`,
          );
        const [every, half, bar] = [at('beat'), at('half bar'), at('bar')];
        expect(every).toEqual(expect.arrayContaining(half));
        expect(half).toEqual(expect.arrayContaining(bar));
        expect([half[0], bar[0]]).toEqual([every[0], every[0]]);
      }),
      { numRuns: 300, seed: 20261128 },
    );
  });

  it('leaves what a person wrote as long as it was written', () => {
    fc.assert(
      fc.property(song, (small) => {
        const score = scoreOf(small);
        const written = score.chords.filter(({ guess }) => !guess);
        for (const density of ['half bar', 'bar'] as const) {
          const { chords } = Reduction.chords(score, { density });
          expect(chords.filter(({ guess }) => !guess)).toEqual(written);
        }
      }),
      { numRuns: 100, seed: 20261128 },
    );
  });
});
