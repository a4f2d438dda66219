import { RightHand } from '#music';
import { everyShape, leastMotion, symbolOf, type BruteChord } from '#test/support/brute-hand.ts';
import { compare, type Row } from './measure.ts';

const REGISTER = { low: 55, high: 79, reach: 12 };
const LENGTH = 128;
/**
 * The planner against a kernel that is handed its candidates and gives back nothing but the shapes'
 * numbers.
 */
const LIMIT = 3;

/**
 * A song's worth of chords: the usual ones of a key, with sevenths, borrowed and secondary ones;
 * fixed seed.
 */
const SONG: readonly BruteChord[] = [
  { root: 7, kind: '' },
  { root: 2, kind: '' },
  { root: 4, kind: 'm' },
  { root: 0, kind: '' },
  { root: 9, kind: 'm' },
  { root: 2, kind: '7' },
  { root: 11, kind: 'm' },
  { root: 9, kind: 'm7' },
  { root: 0, kind: 'maj7' },
  { root: 5, kind: '' },
  { root: 9, kind: '7' },
  { root: 2, kind: 'sus4' },
];
const TRIADS = SONG.filter((chord) => chord.kind === '' || chord.kind === 'm');

const ALL_TRIADS: readonly BruteChord[] = Array.from({ length: 24 }, (_, i) => ({
  root: i % 12,
  kind: i < 12 ? '' : 'm',
}));

export function bench(): Promise<Row[]> {
  return Promise.resolve([
    ...against('128 triads of a key', random(TRIADS, LENGTH, 1)),
    ...against('128 of all 24 triads', random(ALL_TRIADS, LENGTH, 4)),
    ...against('128 chords, triads and sevenths', random(SONG, LENGTH, 2)),
    ...besideBruteForce(random(SONG, 7, 3)),
  ]);
}

function against(name: string, chords: readonly BruteChord[]): Row[] {
  const symbols = chords.map(symbolOf);
  const candidates = chords.map((chord) => Int32Array.from(everyShape(chord, REGISTER).flat()));
  const sizes = chords.map((chord) => everyShape(chord, REGISTER)[0]?.length ?? 0);
  const kernel = () => bareKernel(candidates, sizes);
  const planned = () => RightHand.plan(symbols);
  // Another reach, by a hair, is another choice of bounds: nothing is known of its chords, the shapes are the same.
  let hair = 0;
  const firstTime = () => RightHand.plan(symbols, { reach: 12 + ++hair / 1e6 });
  const plan = planned();
  if (!plan.ok || plan.total !== kernel()) throw new Error('the kernel and the plan disagree');
  const { milliseconds, ratios } = compare([kernel, kernel, planned]);
  // By itself, for its litter would be swept up in the others' time.
  const first = compare([kernel, firstTime], 101);
  const micros = (i: number) => `${((milliseconds[i] ?? NaN) * 1000).toFixed(0)} µs`;
  const different = new Set(symbols).size;
  return [
    {
      name: `right hand, ${name}: plan / bare kernel`,
      ratio: ratios[2] ?? NaN,
      limit: LIMIT,
      detail: `${micros(2)} / ${micros(0)}, ${different} different chords met before`,
    },
    {
      name: `right hand, ${name}: chords never met / bare kernel`,
      ratio: first.ratios[1] ?? NaN,
      limit: null,
      detail: `${((first.milliseconds[1] ?? NaN) * 1000).toFixed(0)} µs: read ${different} symbols, find and finger their shapes, say the moves`,
    },
    {
      name: `right hand, ${name}: kernel / kernel`,
      ratio: ratios[1] ?? NaN,
      limit: null,
      detail: 'A/A control: how far off 1 is chance',
    },
  ];
}

function besideBruteForce(chords: readonly BruteChord[]): Row[] {
  const symbols = chords.map(symbolOf);
  const brute = () => leastMotion(chords, REGISTER);
  const plan = RightHand.plan(symbols);
  if (!plan.ok || plan.total !== brute()) throw new Error('brute force and the plan disagree');
  const { milliseconds, ratios } = compare([brute, () => RightHand.plan(symbols)], 41, 2);
  const paths = chords.reduce((count, chord) => count * everyShape(chord, REGISTER).length, 1);
  return [
    {
      name: 'right hand, 7 chords: plan / brute force',
      ratio: ratios[1] ?? NaN,
      limit: null,
      detail: `${((milliseconds[1] ?? NaN) * 1000).toFixed(0)} µs / ${(milliseconds[0] ?? NaN).toFixed(1)} ms, ${paths} paths`,
    },
  ];
}

/**
 * The same dynamic program and nothing else: integers in, the least total out, with its way back.
 * `candidates[i]` holds the keys of all shapes of chord i, `sizes[i]` notes each.
 */
function bareKernel(candidates: readonly Int32Array[], sizes: readonly number[]): number {
  let before = candidates[0] as Int32Array;
  let size = sizes[0] as number;
  let costs = new Int32Array(before.length / size);
  const back: Int32Array[] = [];
  for (let place = 1; place < candidates.length; place++) {
    const here = candidates[place] as Int32Array;
    const width = sizes[place] as number;
    const next = new Int32Array(here.length / width);
    const from = new Int32Array(next.length);
    for (let b = 0; b < next.length; b++) {
      let best = 1 << 30;
      let which = 0;
      for (let a = 0; a < costs.length; a++) {
        let cost = costs[a] as number;
        if (size === width)
          for (let i = 0; i < size; i++)
            cost += Math.abs((before[a * size + i] as number) - (here[b * width + i] as number));
        else cost += doubled(before, a * size, size, here, b * width, width);
        if (cost < best) {
          best = cost;
          which = a;
        }
      }
      next[b] = best;
      from[b] = which;
    }
    back.push(from);
    before = here;
    size = width;
    costs = next;
  }
  let at = costs.indexOf(Math.min(...costs));
  const total = costs[at] as number;
  const shapes = [at];
  for (let place = back.length - 1; place >= 0; place--) {
    at = (back[place] as Int32Array)[at] as number;
    shapes.push(at);
  }
  return total;
}

const cells = new Int32Array(8);

function doubled(
  from: Int32Array,
  at: number,
  size: number,
  to: Int32Array,
  there: number,
  width: number,
): number {
  for (let i = 0; i < size; i++) {
    let diagonal = 0;
    for (let j = 0; j < width; j++) {
      const above = cells[j] as number;
      const left = j > 0 ? (cells[j - 1] as number) : above;
      const least =
        i === 0 ? (j === 0 ? 0 : left) : j === 0 ? above : Math.min(above, left, diagonal);
      diagonal = above;
      cells[j] = least + Math.abs((from[at + i] as number) - (to[there + j] as number));
    }
  }
  return cells[width - 1] as number;
}

/** A linear congruential generator (Numerical Recipes): the same chords in every run. */
function random(pool: readonly BruteChord[], length: number, seed: number): BruteChord[] {
  let state = seed;
  return Array.from({ length }, () => {
    state = (Math.imul(1664525, state) + 1013904223) >>> 0;
    return pool[Math.floor((state / 2 ** 32) * pool.length)] as BruteChord;
  });
}
