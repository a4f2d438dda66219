import { cheapestPath, type Places, type Way } from '../../hand/best-path.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { SlotRole } from './bass-slots.ts';
import { FIRST_POSITION_TOP } from './bass-tones.ts';

/** A pitch that a note of the bass may have. */
export interface Candidate {
  readonly pitch: PitchName;
  /** How it belongs to its chord; a `chromatic` note is neither in the chord nor in its scale. */
  readonly tone: 'bass' | 'fifth' | 'chord' | 'scale' | 'chromatic';
}

/** One note of a line, and what it may be; at least one candidate. */
export interface Step {
  readonly role: SlotRole;
  readonly candidates: readonly Candidate[];
  /** Semitones from the note before, as the song is written; missing: it does not say. */
  readonly way?: number;
}

/** What makes a line worse, each item once; whole numbers. There are no published ones: set by ear on the hymns (ours). */
export const WALKING_COSTS = {
  /** By the semitones of a way: `[up to, cost]`; a step costs nothing. */
  ways: [
    [2, 0],
    [4, 1],
    [7, 3],
    [12, 6],
  ],
  /** The same note again, where the line should go on. */
  repeat: 6,
  /** Into or out of a note that is not in the chord otherwise than by step. */
  loosePassing: 8,
  /** Into the note before the next chord: such a note may be leapt to, as it is left by step (common practice). */
  looseLeading: 1,
  passing: 1,
  chromatic: 5,
  /** On a strong beat. */
  strongFifth: 1,
  strongOther: 2,
  /** The line turns round: on a chord tone or before the next chord, on another note. */
  turn: 1,
  passingTurn: 3,
  /** Above first position the hand must move. */
  high: 2,
  /** Another octave than in the song: a way up becomes one down. */
  turnedOver: 9,
  /** The next chord is not reached by step, or a step between two notes is none. */
  missedTarget: 1000,
  /** What must not be: a way over an octave, a note that stays on another pitch. */
  never: 1_000_000,
} as const;

const isPassing = ({ tone }: Candidate): boolean => tone === 'scale' || tone === 'chromatic';
const staysOn = (role: SlotRole): boolean => role === 'again' || role === 'stays';
const isStep = (far: number): boolean => far === 1 || far === 2;
type Direction = -1 | 0 | 1;

/** What a pitch costs where it stands. */
export function ownCost({ role }: Step, candidate: Candidate): number {
  const { pitch, tone } = candidate;
  let cost = midiOf(pitch) > FIRST_POSITION_TOP ? WALKING_COSTS.high : 0;
  if (role === 'strong' && tone === 'fifth') cost += WALKING_COSTS.strongFifth;
  if (role === 'strong' && tone === 'chord') cost += WALKING_COSTS.strongOther;
  if (isPassing(candidate)) cost += WALKING_COSTS.passing;
  if (tone === 'chromatic') cost += WALKING_COSTS.chromatic;
  return cost;
}

/** What a way between two neighbours costs. */
export function wayCost(from: Step, a: Candidate, to: Step, b: Candidate): number {
  const far = Math.abs(midiOf(b.pitch) - midiOf(a.pitch));
  if (staysOn(to.role)) return far === 0 ? 0 : WALKING_COSTS.never;
  let cost: number = WALKING_COSTS.ways.find(([most]) => far <= most)?.[1] ?? WALKING_COSTS.never;
  if (far === 0) cost += WALKING_COSTS.repeat;
  if (to.way !== undefined && to.way !== midiOf(b.pitch) - midiOf(a.pitch))
    cost += WALKING_COSTS.turnedOver;
  if (!isStep(far)) {
    if (isPassing(a)) cost += WALKING_COSTS.loosePassing;
    if (isPassing(b))
      cost += to.role === 'leading' ? WALKING_COSTS.looseLeading : WALKING_COSTS.loosePassing;
    if (from.role === 'leading' || from.role === 'passing' || to.role === 'passing')
      cost += WALKING_COSTS.missedTarget;
  }
  return cost;
}

/** What it costs to turn round on a note: it was reached in one direction and is left in the other. */
export function turnCost(
  { role }: Step,
  on: Candidate,
  reached: Direction,
  left: Direction,
): number {
  if (reached * left !== -1) return 0;
  return isPassing(on) && role !== 'leading' ? WALKING_COSTS.passingTurn : WALKING_COSTS.turn;
}

const directionOf = (a: Candidate, b: Candidate): Direction =>
  Math.sign(midiOf(b.pitch) - midiOf(a.pitch)) as Direction;

/** A candidate, and the direction in which the line comes to it. */
interface State {
  readonly candidate: Candidate;
  readonly reached: Direction;
}

function statesOf({ candidates }: Step, place: number): State[] {
  const directions: readonly Direction[] = place === 0 ? [0] : [-1, 0, 1];
  return [...candidates]
    .sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch))
    .flatMap((candidate) => directions.map((reached) => ({ candidate, reached })));
}

/**
 * The line that costs least, exact: dynamic programming over pitch and direction. Of equal ones the deeper (the sum of its
 * notes), then the one whose first differing note is deeper.
 */
export function leastLine(steps: readonly Step[]): PitchName[] {
  const states = steps.map(statesOf);
  const places: Places = {
    sizes: states.map(({ length }) => length),
    own: (place) => {
      const here = states[place] ?? [];
      const step = steps[place] as Step;
      return {
        first: Float64Array.from(here, ({ candidate }) => ownCost(step, candidate)),
        then: Float64Array.from(here, ({ candidate }) => midiOf(candidate.pitch)),
      };
    },
    way: (place) => ways(steps, states, place),
  };
  return cheapestPath(places, false).map(
    (choice, place) => (states[place]?.[choice] as State).candidate.pitch,
  );
}

function ways(steps: readonly Step[], states: readonly (readonly State[])[], place: number): Way {
  const [here, next] = [states[place] ?? [], states[place + 1] ?? []];
  const [from, to] = [steps[place], steps[place + 1]] as [Step, Step];
  // A way whose direction is not the one that the next state says is none.
  const first = new Float64Array(here.length * next.length).fill(1e12);
  here.forEach((a, i) => {
    next.forEach((b, j) => {
      const direction = directionOf(a.candidate, b.candidate);
      if (direction !== b.reached) return;
      first[i * next.length + j] =
        wayCost(from, a.candidate, to, b.candidate) +
        turnCost(from, a.candidate, a.reached, direction);
    });
  });
  return { first, at: 0, then: () => 0 };
}
