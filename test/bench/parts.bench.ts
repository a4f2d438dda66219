import { Transpose, type Key, type Score } from '#music';
import { everyPart, PARTS_IN_A_KEY, SONG, twice, TWELVE } from './every-part.ts';
import { median, type Row } from './measure.ts';

const ROUNDS = 3;
/** A song twice as long may take this much longer. */
const GROWTH = 2.5;
const COUNT = PARTS_IN_A_KEY * TWELVE.length;

/** Milliseconds. What is known of a song is known of one object: each time it is another, as it is read anew for each answer. */
function timed(song: Score, work: (score: Score, key: Key) => void): number {
  const fresh = structuredClone(song);
  const began = process.hrtime.bigint();
  for (const key of TWELVE) work(fresh, key);
  return Number(process.hrtime.bigint() - began) / 1e6;
}

function transpositions(score: Score, key: Key): void {
  for (let i = 0; i < PARTS_IN_A_KEY; i++) Transpose.score(score, key);
}

/** Everything that anybody may be given of one song, in twelve keys, beside as many bare transpositions and a song twice as long. */
export function bench(): Promise<Row[]> {
  const long = twice(SONG);
  const works = [
    () => timed(SONG, transpositions),
    () => timed(SONG, transpositions),
    () => timed(SONG, everyPart),
    () => timed(long, everyPart),
  ];
  const times: number[][] = works.map(() => []);
  for (let round = -1; round < ROUNDS; round++)
    for (let i = 0; i < works.length; i++) {
      const which = round % 2 !== 0 ? i : works.length - 1 - i;
      const took = works[which]?.() ?? NaN;
      if (round >= 0) times[which]?.push(took);
    }
  const ratio = (a: number, b: number) =>
    median((times[a] ?? []).map((time, round) => time / (times[b]?.[round] ?? NaN)));
  const [bare, , parts, longer] = times.map((list) => median(list));
  const each = (total = NaN) => (total / COUNT).toFixed(2);
  return Promise.resolve([
    {
      name: `${COUNT} parts of a song (keys, bass, singer, words; 12 keys) / as many transpositions`,
      ratio: ratio(2, 0),
      limit: null,
      detail: `${((parts ?? NaN) / 1000).toFixed(2)} s, ${each(parts)} ms a part; ${each(bare)} ms a transposition`,
    },
    {
      name: 'the same of a song twice as long / of the song',
      ratio: ratio(3, 2),
      limit: GROWTH,
      detail: `${each(longer)} ms a part`,
    },
    {
      name: 'transpositions / transpositions',
      ratio: ratio(1, 0),
      limit: null,
      detail: 'A/A control: how far off 1 is chance',
    },
  ]);
}
