import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import { Abc, MusicXml } from '#music';
import { NewSongs } from '#server/contract/library.ts';
import { createReader } from '#server/reading/reader.ts';
import { Book } from '#server/services/library/book.ts';
import { importFiles } from '#server/services/library/import-files.ts';
import { openDatabase } from '#server/store/database.ts';
import { createStore } from '#server/store/store.ts';
import { mulberry32 } from '#test/support/chance.ts';
import { madeScores } from '#test/support/made-books.ts';
import { migrate } from '../browser/support/running-app.ts';
import type { Row } from './measure.ts';

const SONGS = 1000;
const AT_ONCE = 50;
/** A hundred milliseconds a song: a hymnal of six hundred in a minute. */
const LEAST_A_SECOND = 10;
/** What the second half may add to the memory of the first; the book itself grows by some twelve kilobytes a song. */
const GROWTH = 0.25;
const MEGABYTE = 1024 * 1024;

/** Songs as files, ABC and MusicXML in turn. */
function* files(): Generator<{ name: string; bytes: string }, never> {
  const scores = madeScores(mulberry32(7));
  for (let i = 0; ; i += 1) {
    const score = scores.next().value;
    const isAbc = i % 2 === 0;
    const text = isAbc ? Abc.write(score) : MusicXml.write(score);
    const bytes = Buffer.from(text).toString('base64');
    yield { name: `${i}.${isAbc ? 'abc' : 'musicxml'}`, bytes };
  }
}

const rss = (): number => process.memoryUsage.rss() / MEGABYTE;

/** A thousand songs as a folder is brought: read in the thread, held against the book, kept one by one. */
export async function bench(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'partbook-import-'));
  const url = `file:${join(folder, 'partbook.db')}`;
  await migrate(url);
  const database = openDatabase(url);
  const reader = createReader();
  try {
    const store = createStore(database, { now: () => new Date(), newId: randomUUID });
    const team = store.forTeam(await store.addTeam('Mill Lane'));
    const book = new Book();
    const source = files();
    const memory: number[] = [];
    let [milliseconds, kept] = [0, 0];
    for (let from = 0; from < SONGS; from += AT_ONCE) {
      const sent = NewSongs.parse({
        files: Array.from({ length: AT_ONCE }, () => source.next().value),
        doubles: 'bring',
      });
      const began = performance.now();
      const { lines } = await importFiles(team, reader, book, sent);
      milliseconds += performance.now() - began;
      kept += lines.filter(({ song }) => song !== null).length;
      memory.push(rss());
    }
    if (kept !== SONGS) throw new Error(`${kept} of ${SONGS} songs were kept`);
    const second = (1000 * SONGS) / milliseconds;
    const [half, whole] = [Math.max(...memory.slice(0, memory.length / 2)), Math.max(...memory)];
    return [
      {
        name: 'import of 1,000 songs: 10 a second / songs a second',
        ratio: LEAST_A_SECOND / second,
        limit: 1,
        detail: `${second.toFixed(1)} songs a second, ABC and MusicXML in turn, doubles looked for`,
      },
      {
        name: 'memory after 1,000 songs / after 500',
        ratio: whole / half,
        limit: 1 + GROWTH,
        detail: `${Math.round(half)} and ${Math.round(whole)} MB at most, the reader’s thread included`,
      },
    ];
  } finally {
    await reader.close();
    await database.$disconnect();
    rmSync(folder, { recursive: true, force: true });
  }
}
