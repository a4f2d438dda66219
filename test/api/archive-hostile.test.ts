import { createHash } from 'node:crypto';
import { setTimeout } from 'node:timers/promises';
import { zipSync, type Zippable } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { ImportReport } from '#server/contract/library.ts';
import { bringHymn, ownApp, type TestApp } from '#test/support/api.ts';
import { GRACE, put, text, twoSongs } from '#test/support/archives.ts';

/** Milliseconds of work, of all threads, that no archive may take. */
const WORK = 2000;
/** Milliseconds that another request may wait meanwhile: an eye's blink, on a busy machine. */
const WAIT = 1000;
/** Bytes by which the process may grow while it reads one. */
const GROWTH = 256 * 2 ** 20;

const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

type Entry = Record<string, unknown> & { files: Record<string, string> };

/** A library of one song, and what its manifest says of it. */
async function oneSong(): Promise<{ files: Record<string, Uint8Array>; entry: Entry }> {
  const files = await twoSongs();
  const manifest = JSON.parse(Buffer.from(files['manifest.json'] ?? []).toString()) as {
    songs: [Entry];
  };
  return { files, entry: manifest.songs[0] };
}

const manifestOf = (songs: readonly unknown[]): Uint8Array =>
  text(JSON.stringify({ layout: 'partbook-library', version: 1, songs }));

/** What an archive costs: work, the longest wait of another request, memory; and what was answered. */
async function costOf({ api }: Pick<TestApp, 'api'>, archive: Uint8Array) {
  let isOver = false;
  let waited = 0;
  let largest = 0;
  const before = process.memoryUsage.rss();
  const others = async (): Promise<void> => {
    while (!isOver) {
      const began = performance.now();
      await api.get('/api/health').expect(200);
      waited = Math.max(waited, performance.now() - began);
      largest = Math.max(largest, process.memoryUsage.rss());
      await setTimeout(20);
    }
  };
  const asking = others();
  const start = process.cpuUsage();
  const answer = await put(api, archive);
  const { user, system } = process.cpuUsage(start);
  isOver = true;
  await asking;
  return { answer, work: (user + system) / 1000, waited, growth: largest - before };
}

const ZEROS = new Uint8Array(16 * 2 ** 20);
const deep = (depth: number): Uint8Array => text('['.repeat(depth) + ']'.repeat(depth));

interface Made {
  readonly files: Record<string, Uint8Array>;
  readonly entry: Entry;
}
const HARMFUL: readonly (readonly [string, (made: Made) => Zippable])[] = [
  [
    'a song of twenty files of 16 MiB',
    ({ entry }) => {
      const names = Array.from({ length: 20 }, (_, i) => `f${i}.bin`);
      const files = Object.fromEntries(names.map((name) => [name, hashOf(ZEROS)]));
      return {
        ...Object.fromEntries(names.map((name) => [`${GRACE}/${name}`, ZEROS])),
        'manifest.json': manifestOf([{ ...entry, files }]),
      };
    },
  ],
  [
    'five large files of one song, listed by a thousand',
    ({ entry }) => {
      const names = ['score.json', 'song.musicxml', 'song.abc', 'song.txt', 'source.abc'];
      const files = Object.fromEntries(names.map((name) => [name, hashOf(ZEROS)]));
      return {
        ...Object.fromEntries(names.map((name) => [`${GRACE}/${name}`, ZEROS])),
        'manifest.json': manifestOf(Array.from({ length: 1000 }, () => ({ ...entry, files }))),
      };
    },
  ],
  ['a manifest of brackets', () => ({ 'manifest.json': deep(8_000_000) })],
  [
    'a manifest of empty songs',
    () => ({
      'manifest.json': text(
        `{"layout":"partbook-library","version":1,"songs":[${'[],'.repeat(5_000_000)}0]}`,
      ),
    }),
  ],
  ['a manifest of noughts', () => ({ 'manifest.json': new Uint8Array(64 * 2 ** 20) })],
  [
    'music of brackets',
    ({ entry }) => {
      const score = deep(4_000_000);
      return {
        [`${GRACE}/score.json`]: score,
        'manifest.json': manifestOf([{ ...entry, files: { 'score.json': hashOf(score) } }]),
      };
    },
  ],
];

describe('an archive made to harm', () => {
  it.each(HARMFUL)('costs little and holds up nobody: %s', { timeout: 60_000 }, async (_, make) => {
    const archive = zipSync(make(await oneSong()), { level: 9 });
    expect(archive.length).toBeLessThan(2_000_000);
    const own = await ownApp();
    await bringHymn(own.api, 'Silent_Night-Stille_Nacht');
    const { answer, work, waited, growth } = await costOf(own, archive);
    expect(work, 'milliseconds of work').toBeLessThan(WORK);
    expect(waited, 'milliseconds that another waited').toBeLessThan(WAIT);
    expect(growth, 'bytes').toBeLessThan(GROWTH);
    const lines = answer.status === 200 ? (answer.body as ImportReport).lines : [];
    expect(lines.filter(({ outcome }) => outcome !== 'failed')).toEqual([]);
    for (const { why } of lines) expect(why).toMatch(/^\p{Lu}.*\.$/u);
    if (answer.status !== 200) expect(answer.status).toBe(422);
  });
});
