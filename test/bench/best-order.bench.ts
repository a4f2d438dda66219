import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { ServiceOrder } from '#music';
import { OrderPlans } from '#server/planning/order-plans.ts';
import { OPTIONS, SONGS, TEAM } from './best-order-hymns.ts';
import { median, type Row } from './measure.ts';

/** What the server may take for ten songs (what was asked of this app). */
const MOST_MS = 2000;
const ROUNDS = 3;

/** Of the processor, so that what else the machine does does not count. */
function milliseconds(work: () => unknown, rounds = ROUNDS): number {
  const times = Array.from({ length: rounds }, () => {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  });
  return median(times);
}

/** MB at the highest of a process that does this and nothing else, Node and the songs included. */
function megabytes(count: number): number {
  const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));
  const said = execFileSync(
    process.execPath,
    ['--import', here('./typescript.mjs'), here('./best-order-memory.ts'), String(count)],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] },
  );
  return Number(said);
}

/** Weighing alone, and the search alone on what was weighed. */
function ofSongs(count: number) {
  const songs = SONGS.slice(0, count);
  const weighing = milliseconds(() => songs.map((song) => ServiceOrder.weigh(song, TEAM)));
  const weighed = songs.map((song) => ServiceOrder.weigh(song, TEAM));
  const solving = milliseconds(() => ServiceOrder.bestOf(songs, weighed, TEAM, OPTIONS));
  const { proof } = ServiceOrder.bestOf(songs, weighed, TEAM, OPTIONS);
  return { weighing, solving, proved: proof.optimal ? 'proved' : 'not proved' };
}

function besideWeighing(): Row[] {
  return [6, 8, 10, 12].map((count) => {
    const { weighing, solving, proved } = ofSongs(count);
    return {
      name: `best order of ${count} hymns, 12 keys, 6 leads with 2 songs each: search / weighing`,
      ratio: solving / weighing,
      limit: null,
      detail: `${solving.toFixed(0)} ms, ${megabytes(count)} MB in all, ${proved}, / ${weighing.toFixed(0)} ms`,
    };
  });
}

function asItIsAsked(): Row[] {
  const request = { items: SONGS.slice(0, 10), team: TEAM, options: OPTIONS };
  const first = milliseconds(() => new OrderPlans().of(request));
  const plans = new OrderPlans();
  plans.of(request);
  const again = milliseconds(() => plans.of(request));
  return [
    {
      name: 'best order of 10 hymns, never weighed, in any order / 2 s',
      ratio: first / MOST_MS,
      limit: 1,
      detail: `${first.toFixed(0)} ms of the processor`,
    },
    {
      name: 'the same asked again / the first time',
      ratio: again / first,
      limit: 1,
      detail: `${again.toFixed(0)} ms: songs are kept as they were weighed`,
    },
  ];
}

/** Every order, key and lead of three songs. */
function besideBruteForce(): Row {
  const songs = SONGS.slice(0, 3);
  const weighed = songs.map((song) => ServiceOrder.weigh(song, TEAM));
  const ways = weighed.map((song) =>
    song.ways.map(({ lead, costs }) => ({
      lead,
      points: costs.reduce((sum, { points }) => sum + points, 0),
    })),
  );
  let tried = 0;
  const brute = (): number => {
    let least = Infinity;
    tried = 0;
    for (const order of [
      [0, 1, 2],
      [0, 2, 1],
      [1, 0, 2],
      [1, 2, 0],
      [2, 0, 1],
      [2, 1, 0],
    ])
      // prettier-ignore
      for (const a of ways[order[0] ?? 0] ?? [])
        for (const b of ways[order[1] ?? 0] ?? [])
          for (const c of ways[order[2] ?? 0] ?? []) {
            tried += 1;
            if (a.lead === b.lead && b.lead === c.lead) continue;
            least = Math.min(least, a.points + b.points + c.points);
          }
    return least;
  };
  const search = milliseconds(() => ServiceOrder.bestOf(songs, weighed, TEAM, OPTIONS), 11);
  const all = milliseconds(brute, 11);
  return {
    name: 'best order of 3 hymns: search / every way tried, without the joins',
    ratio: search / all,
    limit: null,
    detail: `${search.toFixed(1)} ms / ${all.toFixed(1)} ms, ${tried} ways`,
  };
}

export function bench(): Promise<Row[]> {
  return Promise.resolve([besideBruteForce(), ...besideWeighing(), ...asItIsAsked()]);
}
