/**
 * Memory of a process that makes parts and engraves sheets and nothing else, for `sheet-memory.bench.ts`: says as JSON
 * how many MB it has resident with the engraver warm, after every part in twelve keys, after fifty sheets of
 * them, and after all of it twice more, with other widths.
 */
import { Sheets } from '#music';
import { createRenderer } from '#server/render/renderer.ts';
import { warmUp } from '#server/render/warm-up.ts';
import { everyPart, partIn, PLAYERS, SONG, TWELVE } from './every-part.ts';

const SHEETS = 50;
const MEGABYTE = 1024 * 1024;
const rss = () => process.memoryUsage.rss() / MEGABYTE;

const renderer = createRenderer();
await warmUp(renderer, (line) => process.stderr.write(`${line}\n`));
const memory = [rss()];
for (const width of [1180, 820, 1000]) {
  for (const key of TWELVE) everyPart(structuredClone(SONG), key);
  memory.push(rss());
  for (let i = 0; i < SHEETS; i++) {
    const [key, who] = [TWELVE[i % TWELVE.length], PLAYERS[i % PLAYERS.length]];
    if (!key || !who) continue;
    const page = { width: width - i, textScale: 1, verse: 1 } as const;
    await renderer.engrave(Sheets.request(partIn(SONG, key, who), page));
  }
  memory.push(rss());
}
await renderer.close();
process.stdout.write(JSON.stringify(memory));
