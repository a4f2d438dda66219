import { failure, type Failure, type Problem } from '../result.ts';
import type { Chord } from '../pitch/chord.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { cheapestPath } from './best-path.ts';
import { readBounds, type RightHandOptions } from './right-hand-options.ts';
import type { Candidates } from './candidates.ts';
import { chordsInHand } from './chords-in-hand.ts';
import { planPlaces } from './right-hand-costs.ts';
import { moveBetween, type PlannedMove } from './planned-move.ts';
import { settledChoices } from './settled-shapes.ts';
import type { Shape } from './shape.ts';

export type { RightHandOptions } from './right-hand-options.ts';
export type { PlannedMove } from './planned-move.ts';

export interface RightHandPlan {
  readonly ok: true;
  /** One shape per chord; notes spelled as the chord spells them. */
  readonly shapes: readonly Shape[];
  /** From each shape to the next; in a loop also from the last back to the first. */
  readonly moves: readonly PlannedMove[];
  /** The motion of all moves, in semitones. */
  readonly total: number;
  /** What could not be had: a tune note that its chord has not. */
  readonly warnings: readonly Problem[];
  /** With goal `settled`: what it costs that every chord keeps its shape. */
  readonly settled?: Settled;
}

export interface Settled {
  /** The motion of goal `nearest` for the same chords, in semitones: `total` is never less. */
  readonly nearest: number;
  /**
   * Whether `total` is proven least; else by how many semitones, at most, it may be more than the
   * least.
   */
  readonly proof: 'optimal' | { readonly gap: number };
}

/**
 * The right hand's way through chords, symbols or chords read before: for every chord one shape, so
 * that the whole way is the best there is (exact, by dynamic programming; no heuristics). Shapes:
 * every set of keys within `register` and `reach` that sounds each tone of the chord once
 * (`tonesInHand` says what big chords leave out).
 *
 * - goal `nearest`: least motion (see `Motion.between`). Of equals: fewest fingers exchanged, then
 *   nearest to the middle of the register, then lowest, then the lower shape where two ways first
 *   differ. So there is one answer.
 * - goal `settled`: every chord, once it has a shape, keeps it wherever it comes again (chords on
 *   the same keys of the octave are one, whatever their bass); of all such ways least motion, of
 *   equals as above, in the order the chords first appear. The trade: fewer shapes to learn for
 *   `total - settled.nearest` semitones more on the way. Exact, by elimination (see
 *   `leastAssignment`), as far as songs go; where dozens of chords stand each beside each other, a
 *   good way with the gap that is left (`settled.proof`).
 * - goal `tune`: as many chords as can be with the tune's note on top, then most fingers kept on
 *   their keys, then least motion; of equals as above.
 *
 * With `loop` the move from the last shape back to the first counts too. A chord that cannot be
 * read, or has no shape within bounds, is a problem by its number and name; nothing is planned
 * then.
 */
export function plan(
  chords: readonly (string | Chord)[],
  options: RightHandOptions = {},
): RightHandPlan | Failure {
  const bounds = readBounds(options);
  if ('ok' in bounds) return bounds;
  const inHand = chordsInHand(chords, bounds, options.most);
  if ('ok' in inHand) return inHand;
  const start = startShape(inHand[0], options.start);
  if (typeof start === 'object' && start !== null) return failure(start);
  const planned = planPlaces(inHand, bounds, options, start);
  if ('ok' in planned) return planned;

  const loop = options.loop ?? false;
  const { warnings } = planned;
  const way = (choices: readonly number[]) => {
    const shapes = choices.map((choice, place) => inHand[place]?.shapes[choice] as Shape);
    const moves = movesOf(shapes, loop);
    return { shapes, moves, total: moves.reduce((sum, move) => sum + move.motion, 0) };
  };
  const nearest = way(cheapestPath(planned.places, loop));
  if (options.goal !== 'settled') return { ok: true, ...nearest, warnings };
  const { choices, best } = settledChoices(inHand, planned.places, loop);
  const found = way(choices);
  const gap = found.total - nearest.total;
  const proof = best || gap === 0 ? 'optimal' : { gap };
  return { ok: true, ...found, warnings, settled: { nearest: nearest.total, proof } };
}

/** The candidate that `start` asks for; null where it asks for none. */
function startShape(
  first: Candidates | undefined,
  start: readonly PitchName[] | undefined,
): number | null | Problem {
  if (!start || !first) return null;
  const wanted = start
    .map(midiOf)
    .sort((a, b) => a - b)
    .join(' ');
  for (let c = 0; c < first.count; c++)
    if (first.keys.subarray(c * first.size, (c + 1) * first.size).join(' ') === wanted) return c;
  return {
    code: 'start-does-not-fit',
    message: `The hand cannot start on ${start.join(' ')}: that is no shape of the first chord within register and reach.`,
  };
}

function movesOf(shapes: readonly Shape[], loop: boolean): PlannedMove[] {
  const count = shapes.length - (loop ? 0 : 1);
  const moves: PlannedMove[] = [];
  for (let i = 0; i < count; i++)
    moves.push(moveBetween(shapes[i] as Shape, shapes[(i + 1) % shapes.length] as Shape));
  return moves;
}
