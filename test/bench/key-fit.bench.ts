import { KeyFit, Keys, Parts, Pitches, PlayersInKey, Tessitura } from '#music';
import type { Key, PlayerInKey, Score, Singer } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { compare, median, type Row } from './measure.ts';

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

const who = (more: Partial<PlayerInKey>): PlayerInKey => ({
  id: 'p',
  name: 'Ruth',
  role: 'keys',
  level: 'beginner',
  reach: 12,
  ...more,
});
const PLAYERS: readonly PlayerInKey[] = [
  who({ instruments: { transposeButton: true } }),
  who({ role: 'guitar' }),
  who({ role: 'bass' }),
];
const TEAM = { roles: ['keys', 'guitar', 'bass'] } as const;
const PLAYED = { tempo: null, density: 'bar', form: null } as const;

/** Twelve keys for ten voices, both hands of a beginner with a transpose button, guitar and bass, and the front of them. */
function whole(score: Score) {
  const costs = PlayersInKey.costs(score, PLAYED, PLAYERS, TEAM);
  const players = (key: Key) => costs.find((each) => Keys.sameKey(each.key, key))?.costs ?? [];
  return KeyFit.front(KeyFit.table(score, VOICES), { lead: 'voice-0', players });
}

/** The same players with nothing shared: each key, and each key of the button, has its chords read and its parts built anew. */
function everyPartAnew(score: Score): number {
  let parts = 0;
  for (const sounds of Keys.keysToOffer('major')) {
    for (const key of Keys.keysToOffer('major')) {
      const built = Parts.build(score, { ...PLAYED, key }, who({}), TEAM);
      if (built.ok) parts += built.value.moves.length;
    }
    for (const one of PLAYERS.slice(1))
      parts += PlayersInKey.weigh(score, PLAYED, one, TEAM).cost(sounds)?.ease.value ?? 0;
  }
  return parts;
}

/** The longest that the page is held up at once: one key of one player, as they are weighed while it is idle. */
function longestSlice(score: Score): number {
  const slices = PLAYERS.flatMap((player) => {
    const { sounding } = PlayersInKey.weigh(score, PLAYED, player, TEAM);
    return Keys.keysToOffer('major').map((key) => timed(() => sounding(key)));
  });
  return Math.max(...slices);
}

function timed(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

const SLICE = 50;

function measureWhole(name: string, score: Score): Row[] {
  whole(score);
  const [shared, again, anew] = [whole, whole, everyPartAnew].map((work) =>
    median([1, 2, 3].map(() => timed(() => work(score)))),
  );
  const slice = median([1, 2, 3, 4, 5].map(() => longestSlice(score)));
  return [
    {
      name: `key fit of ${name} with hands, guitar and bass, against every part built anew for every key`,
      ratio: (shared ?? NaN) / (anew ?? NaN),
      limit: 1,
      detail: `${(shared ?? NaN).toFixed(0)} ms for 12 keys × (10 voices, keys by button, guitar, bass) with the front, ${(anew ?? NaN).toFixed(0)} ms anew; A/A ${((again ?? NaN) / (shared ?? NaN)).toFixed(2)}`,
    },
    {
      name: `its longest piece of work at once, against ${SLICE} ms`,
      ratio: slice / SLICE,
      limit: null,
      detail: `${slice.toFixed(0)} ms for one key of one player`,
    },
  ];
}

export function bench(): Promise<Row[]> {
  return Promise.resolve([
    ...measureWhole('New Britain', hymn('Amazing_Grace-New_Britain.abc')),
    ...measureWhole('Hyfrydol', hymn('Alleluia_Sing_To_Jesus-Hyfrydol.abc')),
    measure('New Britain', hymn('Amazing_Grace-New_Britain.abc')),
    measure('Assurance', hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc')),
  ]);
}
