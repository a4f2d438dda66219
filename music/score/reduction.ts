import { say } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import type { PitchName } from '../pitch/pitch.ts';
import { alternativesTo, itemsOf, type Alternative } from './reduction/alternatives.ts';
import type { CostItem } from './reduction/cost.ts';
import { sameHarmony } from './reduction/candidates.ts';
import { correct, uncorrect, writtenChords } from './reduction/corrections.ts';
import { harmoniesOf, type Harmony } from './reduction/harmony.ts';
import { nonChordRuns, type NonChordKind } from './reduction/non-chord-tones.ts';
import { bestReading } from './reduction/optimum.ts';
import { everyChord, leavingOut } from './reduction/leaving-out.ts';
import { forAlone } from './reduction/playing-alone.ts';
import { problemOf, type Problem } from './reduction/problem.ts';
import { listed } from './number-words.ts';
import { sayHarmony, sayNonChord, sayPlace } from './reduction/sentences.ts';
import { textureOf, type Texture } from './reduction/texture.ts';
import type { Kept } from './reduction/thinning.ts';
import type { ChordAt, Score, Ticks } from './score.ts';

export { correct, uncorrect };
export type { Alternative, CostItem, NonChordKind };

/**
 * How often the chord changes. `beat`: every chord that the voices make. `half bar`: one or two a bar. `bar`: a
 * beginner's set, one a bar, and a second where it would be dearly missed. Each of these only leaves changes out of the
 * one before it, so players of all three go together. `alone`: one a bar, reharmonised, for who plays alone.
 */
export type Density = 'bar' | 'half bar' | 'beat' | 'alone';

/** A note outside the chord that it stands in (of the full reading, whatever the density). */
export interface NonChordTone {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly voice: string;
  readonly pitch: PitchName;
  readonly kind: NonChordKind;
  /** `4–3`, `9–8`, `7–6` … where a suspension or retardation resolves over a bass that stays. */
  readonly figure: string | null;
  /** One sentence with bar, beat and pitches. */
  readonly words: string;
}

/** What a chord rests on, beside its sentence. */
export interface Evidence {
  /** What it costs, itemised; empty where a person wrote the chord. */
  readonly items: readonly CostItem[];
  /** The next best chords in its place (three at most), its neighbours being as they are, and how much worse. */
  readonly others: readonly Alternative[];
}

export interface Reading {
  /** In order, covering the time line; a person's own chords are among them, without a guess. */
  readonly chords: ChordAt[];
  /** One for each chord. */
  readonly evidence: readonly Evidence[];
  readonly nonChordTones: NonChordTone[];
  /** Notes that lie outside their chord and fit none of the textbook's patterns. */
  readonly unclassified: number;
  /** … of all sounding notes (tied notes are one), 0–1. */
  readonly share: number;
  /** Why there are no chords, where there are none; else null. */
  readonly reason: string | null;
}

const NOTHING = { chords: [], evidence: [], nonChordTones: [], unclassified: 0, share: 0 };

/**
 * Chord symbols from the voices that sound together, each a guess with its reason, by the reading of least price
 * (`reduction/prices.ts` lists the prices, `reduction/optimum.ts` searches). Chords of the score without a guess
 * stand as they are. Pure; some milliseconds a hymn, so a transposed score is simply read again: its chords are the
 * transposed chords and its sentences name its own pitches.
 */
export function chords(score: Score, options: { readonly density: Density }): Reading {
  const fixed = writtenChords(score);
  const edges = fixed.flatMap(({ from, to }) => [from, to]);
  const texture = textureOf(score, edges);
  if (texture.voices < 2) {
    const reason =
      texture.voices === 0
        ? 'Nothing sounds in this score, so there are no chords to find.'
        : 'This score has one voice; chords are found where two or more sound together.';
    return { ...NOTHING, chords: score.chords.filter((each) => !each.guess), reason };
  }
  const problem = problemOf(texture, fixed);
  const harmonies = harmoniesOf(problem, bestReading(problem).segments);
  const runs = nonChordRuns(texture, harmonies);
  const kept = keptAt(options.density, problem, harmonies);
  const evidence = kept.map(({ harmony }): Evidence => {
    const each = harmonies[harmony] as Harmony;
    if (each.written) return { items: [], others: [] };
    return {
      items: itemsOf(problem, harmonies, harmony),
      others: alternativesTo(problem, harmonies, harmony),
    };
  });
  const unclassified = new Set(
    runs.filter((run) => run.kind === 'unclassified').flatMap((run) => run.notes),
  ).size;
  return {
    chords: kept.map((each, place): ChordAt => {
      const harmony = harmonies[each.harmony] as Harmony;
      const chord = harmony.chord.kind === 'none' ? null : harmony.chord;
      const where = { at: each.at, length: each.end - each.at, chord };
      if (harmony.written) return where;
      const others = (evidence[place]?.others ?? []).map((other): Chord => other.chord);
      const why = sayHarmony(texture, harmony, runs) + leftOut(texture, harmonies, each);
      return { ...where, guess: { reason: `${why}.`, others } };
    }),
    evidence,
    nonChordTones: runs.map((run) => ({
      at: run.at,
      length: run.end - run.at,
      voice: run.voice,
      pitch: run.pitch,
      kind: run.kind,
      figure: run.figure,
      words: `${sayNonChord(texture, run)}.`,
    })),
    unclassified,
    share: unclassified / texture.notes.length,
    reason: null,
  };
}

function keptAt(
  density: Density,
  problem: Problem,
  harmonies: readonly Harmony[],
): readonly Kept[] {
  if (density === 'beat') return everyChord(harmonies);
  if (density === 'alone') return forAlone(problem, harmonies);
  return leavingOut(problem, harmonies, density);
}

/** The score with the chords of a reading in it; a person's stay. */
export function withChords(score: Score, options: { readonly density: Density }): Score {
  return { ...score, chords: chords(score, options).chords };
}

/** `; left out: Em (bar 3, beat 3) and D (bar 4, beat 2)`, where a beginner's chord lasts over others. */
function leftOut(texture: Texture, harmonies: readonly Harmony[], kept: Kept): string {
  const out = harmonies.filter(
    (each, place) => place !== kept.harmony && each.at >= kept.at && each.at < kept.end,
  );
  const own = harmonies[kept.harmony] as Harmony;
  const others = out.filter((each) => !sameHarmony(each.chord, own.chord));
  if (others.length === 0) return '';
  const names = others.map((each) => `${say(each.chord)} (${sayPlace(texture.score, each.at)})`);
  return `; left out: ${listed(names)}`;
}
