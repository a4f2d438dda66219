import { transposeNote } from '../../pitch/interval.ts';
import type { Score, Ticks } from '../score.ts';
import { barLength, meterAt } from '../time.ts';
import { sameHarmony } from './candidates.ts';
import type { Harmony } from './harmony.ts';
import { isDominantOf, type Problem } from './problem.ts';
import { KIND_PRICE, THINNING } from './prices.ts';
import type { Pulse } from './pulse.ts';

/** A chord of the full reading that is kept, and how long it now lasts. */
export interface Kept {
  /** Index into the harmonies. */
  readonly harmony: number;
  readonly at: Ticks;
  readonly end: Ticks;
}

/**
 * What a thinner reading counts as a bar: every bar; in free meter every two counted notes from the start of a line (a
 * single one left over joins the two before it). Their starts, in order.
 */
export function windowsOf(score: Score, pulse: Pulse): Ticks[] {
  const cuts: Ticks[] = [];
  for (const bar of score.bars) {
    cuts.push(bar.at);
    if (barLength(meterAt(score, bar.at)) !== null) continue;
    const pair = 2 * pulse.beatAt(bar.at);
    for (let at = pair; at + pair <= bar.length; at += pair) cuts.push(bar.at + at);
  }
  return cuts;
}

/** A dominant: a major triad or a dominant seventh whose root falls a fifth to the next chord's. */
export function leadsOn(from: Harmony, to: Harmony | undefined): boolean {
  const { root, kind } = from.chord;
  return (
    (kind === 'major' || kind === 'dominant') &&
    to?.chord.root === transposeNote(root, { steps: 3, semitones: 5 })
  );
}

/** The chords that stay whatever they cost: the last of the tune, and a dominant on a beat before it. */
export function lastCadence({ texture }: Problem, harmonies: readonly Harmony[]): number[] {
  const last = harmonies.length - 1;
  const before = harmonies[last - 1];
  const dominant =
    before !== undefined &&
    isDominantOf((harmonies[last] as Harmony).chord.root, before.chord) &&
    texture.pulse.strengthAt(before.at) >= 2;
  return dominant ? [last - 1, last] : [last];
}

/** What a harmony costs over a stretch of time that may not be its own: what clashes with it, and its kind. */
export function clash(
  problem: Problem,
  { candidate, chord }: Harmony,
  at: Ticks,
  end: Ticks,
): number {
  let points = KIND_PRICE[chord.kind] ?? 0;
  problem.stretches.forEach((stretch, place) => {
    if (stretch.at < at || stretch.at >= end) return;
    const price = problem.price(place, candidate);
    points += price.outside + price.rootAbsent;
  });
  return points;
}

/** Whether one chord has all the notes of the other: beside A7, an A is no other chord. */
export function agree(a: Harmony, b: Harmony): boolean {
  const holds = (all: Harmony, some: Harmony) =>
    some.tones.length > 0 && some.tones.every((tone) => all.tones.includes(tone));
  return holds(a, b) || holds(b, a);
}

/** Points for another chord than the one before. */
export function changePoints(before: Harmony, after: Harmony): number {
  if (before === after) return 0;
  return sameHarmony(before.chord, after.chord) ? THINNING.bass : THINNING.change;
}

/** Whether two neighbours are one chord for who plays them: chords that a person wrote stay apart. */
export function isOne(a: Harmony, b: Harmony): boolean {
  return !a.written && !b.written && sameHarmony(a.chord, b.chord) && a.chord.bass === b.chord.bass;
}

/** Neighbours that are one chord become one. */
export function joined(kept: readonly Kept[], harmonies: readonly Harmony[]): Kept[] {
  const result: Kept[] = [];
  for (const each of kept) {
    const last = result.at(-1);
    const before = harmonies[last?.harmony ?? -1];
    if (last && before && isOne(before, harmonies[each.harmony] as Harmony)) {
      result[result.length - 1] = { ...last, end: each.end };
    } else result.push(each);
  }
  return result;
}
