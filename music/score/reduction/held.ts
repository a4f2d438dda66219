import type { NoteName } from '../../pitch/pitch.ts';
import type { Ticks } from '../score.ts';
import type { Harmony } from './harmony.ts';
import { PRICES, THINNING } from './prices.ts';
import type { Problem } from './problem.ts';
import type { Strength } from './pulse.ts';
import { agree, clash, leadsOn } from './thinning.ts';

/** A note of the tune on the first of a bar or on its half, and the chord of the full reading that it belongs to. */
interface StrongNote {
  readonly at: Ticks;
  readonly name: NoteName;
  readonly strength: Strength;
}

/** What holding a chord on costs in a song, and how well it goes with what the voices have meanwhile. */
export interface Holding {
  /** What it costs to hold the chord of one index until the one of another begins (its length: to the end). */
  points(held: number, next: number): number;
  /** For how long, in [at, end), the full reading has a chord that has all notes of this one, or none but them. */
  agreeing(held: number, at: Ticks, end: Ticks): Ticks;
}

/**
 * A chord that is held costs what its clashes with the voices cost, note by note, and its kind (see `clash`); a slash
 * bass under which the voices go on to another; each dominant left out although what it leads to comes in on a bar or
 * is the next chord; and each note of the tune on a strong beat that belongs to a chord left out and not to this one.
 */
export function holdingOf(problem: Problem, harmonies: readonly Harmony[]): Holding {
  const strong = strongNotes(problem, harmonies);
  const at = (place: number) => harmonies[place] as Harmony;
  const startOf = (place: number) => harmonies[place]?.at ?? harmonies.at(-1)?.end ?? 0;
  return {
    points: (place, next) => {
      const [held, end] = [at(place), startOf(next)];
      const foreign = strong.filter(
        (note) => note.at >= held.at && note.at < end && !held.tones.includes(note.name),
      );
      const bass = next < harmonies.length ? bassPoints(problem, held, end) : 0;
      return (
        clash(problem, held, held.at, end) +
        bass +
        missedDominants(problem, harmonies, place, next) +
        THINNING.syncopated * barsCrossed(problem, harmonies, place, end) +
        foreign.reduce((sum, { strength }) => sum + (THINNING.tune[strength] ?? 0), 0)
      );
    },
    agreeing: (place, from, to) =>
      harmonies
        .filter((each) => each.at < to && each.end > from && soundsWith(at(place), each))
        .reduce((sum, each) => sum + Math.min(each.end, to) - Math.max(each.at, from), 0),
  };
}

/** Where nothing sounds, nothing is against it. */
function soundsWith(held: Harmony, other: Harmony): boolean {
  return held === other || other.tones.length === 0 || agree(held, other);
}

/** The notes of the tune on strong beats that are notes of their chord: a suspension blames no chord. */
function strongNotes({ texture }: Problem, harmonies: readonly Harmony[]): StrongNote[] {
  return texture.slices.flatMap(({ at, strength, sounding }): StrongNote[] => {
    if (strength < 3) return [];
    const own = harmonies.find((each) => each.at <= at && at < each.end);
    return sounding
      .map((index) => texture.notes[index])
      .flatMap((note) => (note?.voice === texture.score.melody ? note.name : []))
      .filter((name) => own?.tones.includes(name))
      .map((name) => ({ at, name, strength }));
  });
}

/** Points for dominants left out between a chord and the next that is kept. */
function missedDominants(
  { texture }: Problem,
  harmonies: readonly Harmony[],
  held: number,
  next: number,
): number {
  const points = harmonies.slice(held + 1, next).map((dominant, place): number => {
    const goal = harmonies[held + place + 2];
    // The held chord may be that dominant itself.
    if (!goal || !leadsOn(dominant, goal) || agree(harmonies[held] as Harmony, dominant)) return 0;
    if (texture.pulse.strengthAt(goal.at) === 4) return THINNING.cadence;
    return goal === harmonies[next] ? THINNING.cadenceWithin : 0;
  });
  return points.reduce((sum, each) => sum + each, 0);
}

/** Bars within (a chord's start, end) that open with another chord, where it comes in after the first beat of a bar. */
function barsCrossed(
  { texture }: Problem,
  harmonies: readonly Harmony[],
  place: number,
  end: Ticks,
): number {
  const held = harmonies[place] as Harmony;
  const { score, pulse } = texture;
  if (pulse.strengthAt(held.at) === 4) return 0;
  return score.bars.filter(({ at }) => {
    const own = harmonies.find((each) => each.at <= at && at < each.end);
    return at > held.at && at < end && own !== undefined && !soundsWith(held, own);
  }).length;
}

/** A slash bass while the voices have another bass, priced like any bass that is not what it should be. */
function bassPoints({ stretches }: Problem, { chord, at }: Harmony, to: Ticks): number {
  const { bass } = chord;
  if (bass === null) return 0;
  return stretches
    .filter((stretch) => stretch.at >= at && stretch.at < to)
    .map((stretch) => (stretch.sound - (stretch.bass.get(bass) ?? 0)) / stretch.beat)
    .reduce((points, beats) => points + Math.round(PRICES.thirdInBass * beats), 0);
}
