import { ownPoints } from './stretch.ts';
import { changePoints, endPoints, type Problem, type Segment } from './problem.ts';

/**
 * A chord begins where two of its tones sound, or its root in the bass, or nothing but its tones. So some chord can
 * begin anywhere.
 */
function mayBegin(problem: Problem, stretch: number, candidate: number): boolean {
  const { present, outside } = problem.price(stretch, candidate);
  const root = problem.candidates[candidate]?.tones[0] ?? '';
  const inBass = problem.stretches[stretch]?.bass.has(root) === true;
  return outside === 0 || inBass || (present & (present - 1)) !== 0;
}

/**
 * Visits a chord from one moment on, ever longer, with where it ends and its own price; only where it can stand.
 */
function eachSegment(
  problem: Problem,
  from: number,
  candidate: number,
  longest: number,
  visit: (to: number, points: number) => void,
): void {
  const { stretches, fixed } = problem;
  const written = fixed[from] ?? null;
  if (written === null ? problem.written.has(candidate) : written !== candidate) return;
  if (written === null && !mayBegin(problem, from, candidate)) return;
  const last = Math.min(stretches.length, from + longest);
  let [points, present, heard] = [0, 0, false];
  for (let to = from + 1; to <= last && (fixed[to - 1] ?? null) === written; to += 1) {
    const price = problem.price(to - 1, candidate);
    points += ownPoints(price);
    present |= price.present;
    heard ||= price.heard;
    if (written !== null) visit(to, 0);
    else if (heard) {
      visit(to, points + problem.whole(candidate, present, from));
    }
  }
}

/** What a chord over [from, to) costs by itself; null where it cannot stand there. */
export function segmentPrice(problem: Problem, { from, to, candidate }: Segment): number | null {
  let found: number | null = null;
  eachSegment(problem, from, candidate, to - from, (end, points) => {
    if (end === to) found = points;
  });
  return found;
}

/** The whole price of a reading; null where one of its chords cannot stand. */
export function readingPrice(problem: Problem, segments: readonly Segment[]): number | null {
  let points = 0;
  let before: number | null = null;
  for (const segment of segments) {
    const own = segmentPrice(problem, segment);
    if (own === null) return null;
    points += own;
    if (before !== null) points += changePoints(problem, before, segment.candidate, segment.from);
    if (segment === segments.at(-1)) points += endPoints(problem, before, segment.candidate);
    before = segment.candidate;
  }
  return points;
}

/** Per moment and last chord: the least price, its number of changes, and the segment before. */
interface States {
  readonly points: Float64Array;
  readonly changes: Int32Array;
  readonly from: Int32Array;
  /** The chord before; −1 at the beginning. */
  readonly before: Int32Array;
}

/**
 * The reading of least price, exact: dynamic programming over moments of change, state = the last chord. Among
 * readings of one price: fewer changes of chord, then the plainer kind, then the root nearer the tonic on the line of
 * fifths (the order of the candidates), compared at the last chord in which they differ.
 */
export function bestReading(problem: Problem): { segments: Segment[]; points: number } {
  const [moments, chords] = [problem.stretches.length, problem.candidates.length];
  if (moments === 0) return { segments: [], points: 0 };
  const size = (moments + 1) * chords;
  const states: States = {
    points: new Float64Array(size).fill(Infinity),
    changes: new Int32Array(size),
    from: new Int32Array(size),
    before: new Int32Array(size).fill(-1),
  };
  for (let from = 0; from < moments; from += 1) {
    const reached = reachedAt(states, from, chords);
    for (let candidate = 0; candidate < chords; candidate += 1) {
      let onward: Arrival | null = null;
      eachSegment(problem, from, candidate, problem.longest, (to, own) => {
        const last = to === moments;
        const arrival = last
          ? arrivalOf(problem, states, reached, { from, candidate, last })
          : (onward ??= arrivalOf(problem, states, reached, { from, candidate, last }));
        const points = arrival.points + own;
        const place = to * chords + candidate;
        const least = states.points[place] as number;
        const fewer = arrival.changes < (states.changes[place] as number);
        if (points > least || (points === least && !fewer)) return;
        states.points[place] = points;
        states.changes[place] = arrival.changes;
        states.from[place] = from;
        states.before[place] = arrival.before;
      });
    }
  }
  return traced(problem, states);
}

/** Chords with which some reading ends at a moment, in their order. */
function reachedAt(states: States, moment: number, chords: number): number[] {
  const reached: number[] = [];
  for (let chord = 0; chord < chords; chord += 1) {
    if (states.points[moment * chords + chord] !== Infinity) reached.push(chord);
  }
  return reached;
}

interface Arrival {
  readonly points: number;
  readonly changes: number;
  readonly before: number;
}

/** The cheapest way to begin a chord at a moment; where it is the last one, its ending included. */
function arrivalOf(
  problem: Problem,
  states: States,
  reached: readonly number[],
  { from, candidate, last }: { from: number; candidate: number; last: boolean },
): Arrival {
  const alone = last ? endPoints(problem, null, candidate) : 0;
  let best: Arrival = { points: from === 0 ? alone : Infinity, changes: 0, before: -1 };
  for (const before of reached) {
    const place = from * problem.candidates.length + before;
    const points =
      (states.points[place] as number) +
      changePoints(problem, before, candidate, from) +
      (last ? endPoints(problem, before, candidate) : 0);
    const changes = (states.changes[place] as number) + (before === candidate ? 0 : 1);
    if (points < best.points || (points === best.points && changes < best.changes)) {
      best = { points, changes, before };
    }
  }
  return best;
}

function traced(problem: Problem, states: States): { segments: Segment[]; points: number } {
  const [moments, chords] = [problem.stretches.length, problem.candidates.length];
  let last = { points: Infinity, changes: 0, candidate: -1 };
  for (const candidate of reachedAt(states, moments, chords)) {
    const place = moments * chords + candidate;
    const points = states.points[place] as number;
    const changes = states.changes[place] as number;
    if (points < last.points || (points === last.points && changes < last.changes)) {
      last = { points, changes, candidate };
    }
  }
  const segments: Segment[] = [];
  for (let [to, candidate] = [moments, last.candidate]; candidate >= 0 && to > 0;) {
    const place = to * chords + candidate;
    const from = states.from[place] as number;
    segments.unshift({ from, to, candidate });
    [to, candidate] = [from, states.before[place] as number];
  }
  return { segments, points: last.points };
}
