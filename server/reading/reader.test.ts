import { readFileSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { afterEach, describe, expect, it } from 'vitest';
import { SongFiles } from '#music';
import { createReader, ReadingError, type Reader, type ReaderOptions } from './reader.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const HYMN = readFileSync(
  new URL('../../seed-data/hymns/Silent_Night-Stille_Nacht.abc', import.meta.url),
);

/** A thread that does what a test says: its source is the body of a message handler. */
function scripted(handler: string): () => Worker {
  const source = `const { parentPort } = require('node:worker_threads'); parentPort.on('message', (job) => { ${handler} });`;
  return () => new Worker(source, { eval: true, resourceLimits: { maxOldGenerationSizeMb: 32 } });
}
const STUCK = `if (job.request.bytes[0] === 33) for (;;); parentPort.postMessage({ id: job.id, ok: true, value: 'read' })`;
const GREEDY = `const all = []; for (;;) all.push(new Array(100000).fill(job.id));`;

let reader: Reader | null = null;
function readerWith(options: ReaderOptions = {}): Reader {
  reader = createReader(options);
  return reader;
}
afterEach(async () => {
  await reader?.close();
  reader = null;
});

describe('the reader in its thread', () => {
  it('reads a file to the same songs as without a thread', async () => {
    const { read } = readerWith();
    expect(await read({ bytes: HYMN })).toEqual(SongFiles.read(HYMN));
    const text = bytesOf('Title\n\nG      C\nWords here\n');
    expect(await read({ bytes: text, as: 'words' })).toEqual(SongFiles.read(text, 'words'));
  });

  it('reads words as a person said they are', async () => {
    const { read } = readerWith();
    const bytes = bytesOf('Song\n\nG C G\nwords and words\n');
    const plain = await read({ bytes, as: 'words' });
    const marked = await read({ bytes, as: 'words', marks: [{ line: 3, as: 'words' }] });
    expect(plain.ok && marked.ok).toBe(true);
    expect(marked).not.toEqual(plain);
  });

  it('says what is wrong with a file', async () => {
    const result = await readerWith().read({ bytes: bytesOf('X:1\nT:a\nK:C\nCDE|"Am F|\n') });
    expect(result).toMatchObject({ ok: false });
  });

  it('gives up a file that takes too long, says so, and reads the next in a new thread', async () => {
    const { read } = readerWith({ start: scripted(STUCK), timeoutMs: 1000 });
    const began = performance.now();
    const stuck = read({ bytes: bytesOf('!') });
    const next = read({ bytes: bytesOf('a') });
    expect(await stuck).toEqual({
      ok: false,
      problems: [
        {
          code: 'takes-too-long',
          message: 'Reading this file took longer than a second and was given up.',
        },
      ],
    });
    expect(performance.now() - began).toBeLessThan(4000);
    expect(await next).toBe('read');
  });

  it('gives up a file that takes too much memory, and nothing else falls with it', async () => {
    const { read } = readerWith({ start: scripted(GREEDY), timeoutMs: 20_000 });
    expect(await read({ bytes: bytesOf('a') })).toMatchObject({
      ok: false,
      problems: [{ code: 'too-much-in-it' }],
    });
  });

  it('refuses more than may wait, and everything once it is closed', async () => {
    const { read, close } = readerWith({ start: scripted(''), mostWaiting: 1 });
    const underway = read({ bytes: HYMN });
    const waiting = read({ bytes: HYMN });
    await expect(read({ bytes: HYMN })).rejects.toMatchObject({ code: 'busy' });
    const ended = Promise.allSettled([underway, waiting]);
    await close();
    for (const each of await ended) expect(each.status).toBe('rejected');
    await expect(read({ bytes: HYMN })).rejects.toBeInstanceOf(ReadingError);
  });
});
