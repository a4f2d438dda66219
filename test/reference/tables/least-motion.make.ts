/**
 * Makes `least-motion.ts` anew: `npx tsx test/reference/tables/least-motion.make.ts`. It tries every sequence of closed
 * triads and shares nothing with the planner: its own spelling, its own shapes, its own sums.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Names of progressions: Open Music Theory, "Pop/rock harmony". The first chord stands in root position. */
const ASKED: readonly (readonly [name: string, chords: string, octave: number])[] = [
  ['I–V–vi–IV, C', 'C G Am F', 4],
  ['I–V–vi–IV, G', 'G D Em C', 4],
  ['I–V–vi–IV, D', 'D A Bm G', 4],
  ['I–V–vi–IV, E', 'E B C#m A', 4],
  ['I–V–vi–IV, A', 'A E F#m D', 3],
  ['I–V–vi–IV, Bb', 'Bb F Gm Eb', 3],
  ['I–IV–V–I, C', 'C F G C', 4],
  ['I–vi–IV–V, C', 'C Am F G', 4],
  ['I–vi–ii–V, F', 'F Dm Gm C', 4],
  ['vi–IV–I–V, G', 'Em C G D', 4],
  ['I–IV–I–V–I, Eb', 'Eb Ab Eb Bb Eb', 4],
  ['I–iii–IV–V, A', 'A C#m D E', 3],
  ['I–bVII–IV–I, G', 'G F C G', 3],
  ['I–V–vi–iii–IV–I–IV–V, D', 'D A Bm F#m G D G A', 4],
];

const LETTERS = 'CDEFGAB';
const NATURALS = [0, 2, 4, 5, 7, 9, 11];
const SIGNS: Readonly<Record<number, string>> = { [-1]: 'b', 0: '', 1: '#' };
const LOWEST = 36;
const HIGHEST = 96;

interface Tone {
  readonly name: string;
  /** 0–11. */
  readonly place: number;
}
interface Key {
  readonly name: string;
  readonly midi: number;
}

const modulo = (number: number): number => ((number % 12) + 12) % 12;

/** Root, third and fifth on every second letter. */
function tonesOf(chord: string): Tone[] {
  const [, letter = '', sign = '', minor = ''] = /^([A-G])([#b]?)(m?)$/.exec(chord) ?? [];
  const first = LETTERS.indexOf(letter);
  const root = (NATURALS[first] ?? NaN) + (sign === '#' ? 1 : sign === 'b' ? -1 : 0);
  return [0, minor ? 3 : 4, 7].map((semitones, i) => {
    const natural = (first + 2 * i) % 7;
    const place = modulo(root + semitones);
    const alter = modulo(place - (NATURALS[natural] ?? NaN) + 6) - 6;
    return { name: `${LETTERS[natural] ?? ''}${SIGNS[alter] ?? '?'}`, place };
  });
}

function pitch({ name, place }: Tone, midi: number): Key {
  const alter = name.endsWith('#') ? 1 : name.endsWith('b') ? -1 : 0;
  if (modulo(midi) !== place) throw new RangeError(`${name} is not ${String(midi)}`);
  return { name: `${name}${String(Math.floor((midi - alter) / 12) - 1)}`, midi };
}

/** The three inversions in every octave: each tone the next above the one before. */
function closedShapes(tones: readonly Tone[]): Key[][] {
  const shapes: Key[][] = [];
  for (let low = LOWEST; low <= HIGHEST; low++) {
    const bottom = tones.findIndex(({ place }) => place === modulo(low));
    if (bottom < 0) continue;
    let midi = low;
    shapes.push(
      [0, 1, 2].map((i) => {
        const tone = tones[(bottom + i) % 3] as Tone;
        while (modulo(midi) !== tone.place) midi++;
        return pitch(tone, midi);
      }),
    );
  }
  return shapes.filter((shape) => shape.every(({ midi }) => midi <= HIGHEST));
}

const motion = (from: readonly Key[], to: readonly Key[]): number =>
  from.reduce((sum, { midi }, i) => sum + Math.abs(midi - (to[i]?.midi ?? NaN)), 0);

/** Every way that is as short as the shortest; a way is given up only when it is already longer. */
function shortest(chords: readonly string[], octave: number) {
  const choices = chords.map((chord) => closedShapes(tonesOf(chord)));
  const root = tonesOf(chords[0] ?? '')[0]?.name ?? '';
  const start = choices[0]?.find(([low]) => low?.name === `${root}${String(octave)}`);
  if (!start) throw new RangeError('no start');
  let total = Infinity;
  let ways: string[] = [];
  const say = (way: readonly Key[][]): string =>
    way.map((shape) => shape.map(({ name }) => name).join(' ')).join(' | ');
  const walk = (way: readonly Key[][], cost: number): void => {
    if (cost > total) return;
    const next = choices[way.length];
    if (!next) {
      if (cost < total) [total, ways] = [cost, []];
      ways.push(say(way));
      return;
    }
    const here = way.at(-1) ?? [];
    const near = next.map((shape) => ({ shape, by: motion(here, shape) }));
    for (const { shape, by } of near.sort((a, b) => a.by - b.by)) walk([...way, shape], cost + by);
  };
  walk([start], 0);
  return { start: say([start]), total, ways: ways.sort() };
}

export function makeProgressions() {
  return ASKED.map(([name, list, octave]) => {
    const chords = list.split(' ');
    const { start, total, ways } = shortest(chords, octave);
    return { name, chords, start, total, ways };
  });
}

const ORDERS = ['012', '021', '102', '120', '201', '210'].map((order) => [...order].map(Number));
const TRIADS = { major: [0, 4, 7], minor: [0, 3, 7] } as const;

/** Over pitch classes, each note to one note, least over the six pairings. */
function distance(from: readonly number[], to: readonly number[]): number {
  const way = (a: number, b: number): number => Math.min(modulo(a - b), modulo(b - a));
  return Math.min(
    ...ORDERS.map((order) =>
      order.reduce((sum, j, i) => sum + way(from[i] ?? NaN, to[j] ?? NaN), 0),
    ),
  );
}

export function makeDistances(): Record<string, number[]> {
  const kinds = ['major', 'minor'] as const;
  const rows = kinds.flatMap((from) =>
    kinds.map((to): [string, number[]] => [
      `${from} ${to}`,
      Array.from({ length: 12 }, (_, n) =>
        distance(
          TRIADS[from],
          TRIADS[to].map((tone) => tone + n),
        ),
      ),
    ]),
  );
  return Object.fromEntries(rows);
}

const path = fileURLToPath(import.meta.url);
if (process.argv[1] === path) {
  const { format, resolveConfig } = await import('prettier');
  const table = path.replace('.make.ts', '.ts');
  const text = [
    '// Made by least-motion.make.ts; a test holds it against a new making.',
    '/** Progressions from a root position with every least way, low to high, by exhaustive search over closed triads. */',
    `export const PROGRESSIONS = ${JSON.stringify(makeProgressions())};\n`,
    '/** Least one-to-one motion between two triads; entry n: the root goes up n semitones. */',
    `export const TRIAD_DISTANCES = ${JSON.stringify(makeDistances())};`,
  ].join('\n');
  const options = await resolveConfig(table);
  writeFileSync(table, await format(text, { ...options, filepath: table }));
}
