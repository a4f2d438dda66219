import { Fingering, type PitchName } from '#music';
import { bruteFingers } from '#test/support/brute-fingers.ts';
import { compare, type Row } from './measure.ts';

/** 128 bars of four in quavers: a chord a bar, low, middle, high, middle. */
const CHORDS = ['C4 E4 G4', 'C4 F4 A4', 'B3 D4 G4', 'C4 E4 A4', 'D4 F4 A4', 'B3 F4 G4'];
const BARS = 128;
/** A page must not wait for its fingers. */
const MOST_MILLISECONDS = 50;

const PART: readonly (readonly PitchName[])[] = Array.from({ length: BARS }, (_, bar) => {
  const [low = '', middle = '', high = ''] = (CHORDS[(bar * 5 + (bar >> 2)) % 6] ?? '').split(' ');
  return [low, middle, high, middle, low, middle, high, middle].map((note) => [note]);
}).flat();

export function bench(): Promise<Row[]> {
  const tables = tablesOf(PART);
  const kernel = () => bareKernel(tables);
  const fingered = () => Fingering.ofPart(PART, 'right');
  if (fingered()[0]?.total !== kernel()) throw new Error('the kernel and the fingering disagree');
  const { milliseconds, ratios } = compare([kernel, kernel, fingered], 101);
  const figure = (i: number) => (milliseconds[i] ?? NaN).toFixed(1);
  const short = PART.slice(0, 6);
  const brute = () => bruteFingers(short, 'right', Fingering.ofShape);
  const beside = compare([brute, () => Fingering.ofPart(short, 'right')], 15, 2);
  return Promise.resolve([
    {
      name: `fingers of ${BARS} bars of broken chords / ${MOST_MILLISECONDS} ms`,
      ratio: (milliseconds[2] ?? NaN) / MOST_MILLISECONDS,
      limit: 1,
      detail: `${figure(2)} ms, ${PART.length} strikes`,
    },
    {
      name: 'the same / bare kernel',
      ratio: ratios[2] ?? NaN,
      limit: null,
      detail: `${figure(2)} / ${figure(0)} ms: finds the keys, makes the tables, says the points`,
    },
    {
      name: 'kernel / kernel',
      ratio: ratios[1] ?? NaN,
      limit: null,
      detail: 'A/A control: how far off 1 is chance',
    },
    {
      name: 'fingers of 6 notes / brute force',
      ratio: beside.ratios[1] ?? NaN,
      limit: null,
      detail: `${((beside.milliseconds[1] ?? NaN) * 1000).toFixed(0)} µs / ${(beside.milliseconds[0] ?? NaN).toFixed(0)} ms, ${5 ** 6} ways`,
    },
  ]);
}

interface Tables {
  /** A row of points for each strike: of a finger by itself and after each other, 25 pairs. */
  readonly pairs: readonly Float64Array[];
  /** Likewise of three fingers in a row, 125. */
  readonly threes: readonly Float64Array[];
}

/** What pairs and threes cost, from the points of short parts alone. */
function tablesOf(part: readonly (readonly PitchName[])[]): Tables {
  const known = new Map<string, number>();
  const points = (notes: readonly (readonly PitchName[])[], fingers: readonly number[]) => {
    const sign = `${notes.join(' ')}: ${fingers.join('')}`;
    const each = fingers.map((finger) => [finger]);
    const found = known.get(sign) ?? Fingering.pointsOfPart(notes, each, 'right').total;
    known.set(sign, found);
    return found;
  };
  const pairs = part.map((_, i) => {
    const here = part.slice(Math.max(0, i - 1), i + 1);
    return Float64Array.from({ length: 25 }, (__, at) => {
      const fingers = [1 + Math.floor(at / 5), 1 + (at % 5)];
      const [first = 1, last = 1] = fingers;
      return i === 0 ? points(here, [last]) : points(here, fingers) - points(here.slice(0, 1), [first]); // prettier-ignore
    });
  });
  const threes = part.map((_, i) => {
    const here = part.slice(i - 2, i + 1);
    return Float64Array.from({ length: 125 }, (__, at) => {
      if (i < 2) return 0;
      const [a, b, c] = [1 + Math.floor(at / 25), 1 + (Math.floor(at / 5) % 5), 1 + (at % 5)];
      const two = points(here.slice(0, 2), [a, b]) + points(here.slice(1), [b, c]);
      return points(here, [a, b, c]) - two + points(here.slice(1, 2), [b]);
    });
  });
  return { pairs, threes };
}

/** The same dynamic program and nothing else: tables in, the least total out, with its way back. */
function bareKernel({ pairs, threes }: Tables): number {
  let costs = new Float64Array(25);
  const back: Uint8Array[] = [];
  pairs.forEach((pair, i) => {
    const three = threes[i] as Float64Array;
    const next = new Float64Array(25).fill(Infinity);
    const from = new Uint8Array(25);
    for (let a = 0; a < 5; a += 1)
      for (let b = 0; b < 5; b += 1)
        for (let c = 0; c < 5; c += 1) {
          const cost =
            (costs[a * 5 + b] as number) +
            (pair[b * 5 + c] as number) +
            (three[a * 25 + b * 5 + c] as number);
          if (cost < (next[b * 5 + c] as number)) {
            next[b * 5 + c] = cost;
            from[b * 5 + c] = a;
          }
        }
    back.push(from);
    costs = next;
  });
  let at = costs.indexOf(Math.min(...costs));
  const total = costs[at] as number;
  for (let i = back.length - 1; i > 0; i -= 1)
    at = ((back[i] as Uint8Array)[at] as number) * 5 + Math.floor(at / 5);
  return total + 0 * at;
}
