import { KeyFit, Pitches, Tessitura, type Score, type Singer } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { compare, type Row } from './measure.ts';

const VOICES: readonly Singer[] = [
  ['A3', 'D5'],
  ['G3', 'C5'],
  ['B3', 'E5'],
  ['C4', 'F5'],
  ['F3', 'A4'],
  ['C3', 'E4'],
  ['A2', 'D4'],
  ['F2', 'B3'],
  ['C4', 'A4'],
  ['A3', 'D5'],
].map(([low = '', high = ''], i) => ({
  id: `voice-${i}`,
  name: `Voice ${i}`,
  comfortable: { low, high },
}));
const KEYS = 12;

/**
 * The bare work: for each key and voice, both octaves, one pass over the times of the pitches in whole numbers for low,
 * high, mean and time outside. The table does that per section and adds the choice of the octave, spelling, figures
 * and a sentence.
 */
function kernel(
  midis: Int32Array,
  ticks: Int32Array,
  bounds: readonly (readonly [number, number])[],
) {
  let sum = 0;
  for (let key = 0; key < KEYS; key += 1) {
    for (const [low, high] of bounds) {
      let best = Infinity;
      for (let octave = 0; octave < 2; octave += 1) {
        let [outside, weighted, bottom, top] = [0, 0, 999, 0];
        for (let i = 0; i < midis.length; i += 1) {
          const midi = (midis[i] as number) + key - 6 - 12 * octave;
          const time = ticks[i] as number;
          weighted += midi * time;
          if (midi < bottom) bottom = midi;
          if (midi > top) top = midi;
          if (midi < low || midi > high) outside += time;
        }
        if (outside < best) best = outside;
        sum += weighted + bottom + top;
      }
      sum += best;
    }
  }
  return sum;
}

function measure(name: string, score: Score): Row {
  const pitches = Tessitura.of(score)?.pitches ?? [];
  const midis = Int32Array.from(pitches, ({ midi }) => midi);
  const ticks = Int32Array.from(pitches, (each) => each.ticks);
  const bounds = VOICES.map(
    ({ comfortable: { low, high } }) => [Pitches.midiOf(low), Pitches.midiOf(high)] as const,
  );
  const bare = () => kernel(midis, ticks, bounds);
  const { milliseconds, ratios } = compare([bare, bare, () => KeyFit.table(score, VOICES)]);
  const [alone = 0, , table = 0] = milliseconds;
  return {
    name: `key fit of ${name}, 12 keys × 10 voices, against a bare loop over pitch times`,
    ratio: ratios[2] ?? NaN,
    limit: null,
    detail: `${table.toFixed(2)} ms for 120 rows with sentences, ${(1000 * alone).toFixed(1)} µs bare; A/A ${(ratios[1] ?? NaN).toFixed(2)}`,
  };
}

export function bench(): Promise<Row[]> {
  return Promise.resolve([
    measure('New Britain', hymn('Amazing_Grace-New_Britain.abc')),
    measure('Assurance', hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc')),
  ]);
}
