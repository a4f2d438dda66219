import { cheapestPath, type Places } from '../../hand/best-path.ts';
import type { PitchName } from '../../pitch/pitch.ts';
import { failure, success, type Result } from '../../result.ts';
import type { Note, Score, Ticks, Voice } from '../../score/score.ts';
import { barAt, melodyOf, soundingNotes, type SoundingNote } from '../../score/time.ts';
import type { Singer } from '../range.ts';
import { pointsOf, type HarmonyItem, type Side } from './costs.ts';
import { heldOn } from './held.ts';
import { problemOn, type Candidate, type HarmonyOptions, type HarmonyProblem } from './problem.ts';

export { HARMONY_PRICES } from './prices.ts';
export type { HarmonyCostKind } from './prices.ts';
export { pointsOf } from './costs.ts';
export type { HarmonyItem, Side, TuneNote } from './costs.ts';
export { problemOn } from './problem.ts';
export { octaveAlong } from './along.ts';
export type { HarmonyOptions, HarmonyProblem } from './problem.ts';

/** A note of a second voice. */
export interface HarmonyNote {
  readonly at: Ticks;
  readonly length: Ticks;
  /** As it sounds. */
  readonly pitch: PitchName;
  readonly bar: number;
  /** The tune is sung along here: everybody sings it. */
  readonly isAlong: boolean;
  /** What it costs by itself and from the note before, itemised; none where the tune is sung along. */
  readonly costs: readonly HarmonyItem[];
}

export interface HarmonyLine {
  /** In the rhythm and under the words of the tune; pitches as they sound. */
  readonly voice: Voice;
  readonly notes: readonly HarmonyNote[];
  readonly side: Side;
  /** Points in all. */
  readonly total: number;
}

/**
 * A second voice in a singer's range, from the tune and its chords: of all lines in the notes of the key and the chords
 * the one with the fewest points of `HARMONY_PRICES`, exact, by dynamic programming; of equals the one nearer to the middle
 * of the range, then the lower. Everything is weighed as it sounds: a man a third "above" a woman sounds a sixth below.
 * Fails where nothing is sung (`no-tune`), no chord is known (`no-chords`), or no note of the scale lies in the range.
 */
export function line(
  score: Score,
  singer: Singer,
  options: HarmonyOptions = {},
): Result<HarmonyLine> {
  const melody = melodyOf(score);
  const sung = tuneOf(melody);
  if (sung.length === 0)
    return failure({
      code: 'no-tune',
      message: `“${score.facts.title}” has no tune to sing beside.`,
    });
  if (!score.chords.some(({ chord }) => chord && chord.kind !== 'none'))
    return failure({
      code: 'no-chords',
      message: `“${score.facts.title}” has no chords to find a second voice in.`,
    });
  const sides: readonly Side[] = options.side ? [options.side] : ['below', 'above'];
  let ways: Ways | null = null;
  const found = sides.flatMap((side) => {
    const problem = problemOn(side, score, sung, singer, options);
    ways ??= waysOf(problem);
    return lineOf(problem, ways, side, score, melody, sung) ?? [];
  });
  const [first] = found;
  if (!first)
    return failure({
      code: 'no-room',
      message: `No note of the scale lies in the range of ${singer.name}.`,
    });
  return success(found.reduce((best, each) => (each.total < best.total ? each : best), first));
}

/** The tune as it is sung, ties joined; of notes together the top one. */
export function tuneOf(melody: Voice): SoundingNote[] {
  const notes = melody.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) }));
  return soundingNotes({ ...melody, notes });
}

function lineOf(
  problem: HarmonyProblem,
  ways: Ways,
  side: Side,
  score: Score,
  melody: Voice,
  sung: readonly SoundingNote[],
): HarmonyLine | null {
  const { choices, own, way } = problem;
  if (choices.some(({ length }) => length === 0)) return null;
  const path = cheapestPath(placesOf(problem, ways), false);
  const taken = choices.map((each, place) => each[path[place] ?? 0] as Candidate);
  const notes = taken.map((each, place): HarmonyNote => {
    const { at, length } = sung[place] as SoundingNote;
    const before = taken[place - 1];
    const costs = [...own(place, each), ...(before ? way(place - 1, before, each) : [])];
    return { at, length, pitch: each.pitch, bar: barAt(score, at).number, isAlong: problem.isAlong(place), costs }; // prettier-ignore
  });
  const total = notes.reduce((sum, { costs }) => sum + pointsOf(costs), 0);
  return { voice: inRhythm(melody, notes), notes, side, total };
}

/** Points from every choice of a place to every one of the next, place by place. */
type Ways = readonly Float64Array[];

/** They are the same on both sides of the tune. */
function waysOf({ choices, wayPoints }: HarmonyProblem): Ways {
  return choices.slice(0, -1).map((here, place) => {
    const there = choices[place + 1] ?? [];
    const points = new Float64Array(here.length * there.length);
    here.forEach((from, a) => {
      there.forEach((to, b) => (points[a * there.length + b] = wayPoints(place, from, to)));
    });
    return points;
  });
}

function placesOf({ choices, ownPoints, range }: HarmonyProblem, ways: Ways): Places {
  return {
    sizes: choices.map(({ length }) => length),
    own: (place) => {
      const here = choices[place] ?? [];
      return {
        first: Float64Array.from(here, (each) => ownPoints(place, each)),
        then: Float64Array.from(here, ({ midi }) => Math.abs(2 * midi - range.low - range.high)),
      };
    },
    way: (place) => ({ first: ways[place] ?? new Float64Array(), at: 0, then: () => 0 }),
  };
}

const endOf = (note: HarmonyNote | undefined): Ticks => (note ? note.at + note.length : 0);

function inRhythm(melody: Voice, line: readonly HarmonyNote[]): Voice {
  let place = 0;
  return {
    ...melody,
    id: 'second voice',
    name: 'Second voice',
    notes: heldOn(
      melody.notes.map((note): Note => {
        if (note.pitches.length === 0) return note;
        while (place < line.length && endOf(line[place]) <= note.at) place += 1;
        const own = line[place];
        const { grace: _none, fingers: _few, above: _words, ...plain } = note;
        return own && own.at <= note.at
          ? { ...plain, pitches: [own.pitch] }
          : { ...plain, pitches: [] };
      }),
    ),
  };
}
