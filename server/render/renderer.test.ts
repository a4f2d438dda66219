import { readFileSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { afterEach, describe, expect, it } from 'vitest';
import { Abc, type EngraveRequest } from '#music';
import { createRenderer, type Renderer, type RendererOptions } from './renderer.ts';

function requestFor(width: number): EngraveRequest {
  const file = new URL('../../seed-data/hymns/Silent_Night-Stille_Nacht.abc', import.meta.url);
  const read = Abc.read(readFileSync(file));
  if (!read.ok || !read.value[0]) throw new Error('the hymn is readable');
  return { score: read.value[0], page: { width, textScale: 1, verse: 1 } };
}

/** A worker that does what a test says: its source is the body of a message handler. */
function scripted(handler: string): () => Worker {
  const source = `const { parentPort } = require('node:worker_threads'); let n = 0; parentPort.on('message', (job) => { n++; ${handler} });`;
  return () => new Worker(source, { eval: true });
}
const DONE = `parentPort.postMessage({ id: job.id, ok: true, value: { glyphs: 'g' + n, systems: [] } })`;

let renderer: Renderer | null = null;
function renderWith(options: RendererOptions): Renderer {
  renderer = createRenderer(options);
  return renderer;
}
afterEach(async () => {
  await renderer?.close();
  renderer = null;
});

describe('the engraver in its thread', () => {
  it('engraves a hymn from the TypeScript source, the same request to the same bytes', async () => {
    const first = await renderWith({}).engrave(requestFor(1180));
    expect(first.systems.length).toBeGreaterThan(2);
    expect(first.systems[0]?.svg).toMatch(/^<svg class="system"/);
    await renderer?.close();
    const again = await renderWith({}).engrave(requestFor(1180));
    expect(again).toEqual(first);
  }, 60_000);

  it('answers what it has engraved before from its cache, and what is asked twice at once only once', async () => {
    const { engrave } = renderWith({ start: scripted(DONE) });
    const [a, b] = await Promise.all([engrave(requestFor(600)), engrave(requestFor(600))]);
    const c = await engrave(requestFor(600));
    expect([a.glyphs, b.glyphs, c.glyphs]).toEqual(['g1', 'g1', 'g1']);
    expect((await engrave(requestFor(601))).glyphs).toBe('g2');
  });

  it('keeps no more bytes than it may', async () => {
    const { engrave } = renderWith({ start: scripted(DONE), cacheBytes: 3 });
    await engrave(requestFor(600));
    await engrave(requestFor(601));
    expect((await engrave(requestFor(600))).glyphs).toBe('g3');
  });

  it('ends an engraving that takes too long and goes on with the next in a new thread', async () => {
    const { engrave } = renderWith({
      start: scripted(`if (job.request.page.width === 666) for (;;); else ${DONE}`),
      timeoutMs: 2000,
    });
    const stuck = engrave(requestFor(666));
    const next = engrave(requestFor(600));
    await expect(stuck).rejects.toMatchObject({ code: 'timeout' });
    expect((await next).glyphs).toBe('g1');
  });

  it('survives a crash of its thread', async () => {
    const { engrave } = renderWith({
      start: scripted(`if (job.request.page.width === 666) process.exit(3); else ${DONE}`),
    });
    const crash = engrave(requestFor(666));
    const next = engrave(requestFor(600));
    await expect(crash).rejects.toMatchObject({ code: 'crashed' });
    expect((await next).glyphs).toBe('g1');
  });

  it('passes on what the engraver refuses', async () => {
    const refuse = `parentPort.postMessage({ id: job.id, ok: false, message: 'no bars' })`;
    const { engrave } = renderWith({ start: scripted(refuse) });
    await expect(engrave(requestFor(600))).rejects.toMatchObject({
      code: 'refused',
      message: 'no bars',
    });
  });

  it('replaces its thread after a number of engravings', async () => {
    const { engrave } = renderWith({ start: scripted(DONE), jobsPerWorker: 1 });
    expect((await engrave(requestFor(600))).glyphs).toBe('g1');
    expect((await engrave(requestFor(601))).glyphs).toBe('g1');
  });

  it('refuses more than may wait, and everything once it is closed', async () => {
    const { engrave, close } = renderWith({ start: scripted(''), mostWaiting: 1 });
    const underway = engrave(requestFor(600));
    const waiting = engrave(requestFor(601));
    await expect(engrave(requestFor(602))).rejects.toMatchObject({ code: 'busy' });
    const ended = Promise.allSettled([underway, waiting]);
    await close();
    expect((await ended).map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    await expect(engrave(requestFor(603))).rejects.toMatchObject({ code: 'closed' });
  });
});
