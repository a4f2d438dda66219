import { Worker } from 'node:worker_threads';
import supertest from 'supertest';
import { describe, expect, it, onTestFinished } from 'vitest';
import { buildApp } from '#server/app.ts';
import { createReader, type ReaderOptions } from '#server/reading/reader.ts';
import { CONFIG, ownDatabase } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';
import { quickRenderer } from '#test/support/service.ts';

/** A file that would be read for ever. */
const FOR_EVER = (): Worker =>
  new Worker(`require('node:worker_threads').parentPort.on('message', () => { for (;;); });`, {
    eval: true,
  });

async function appWith(options: ReaderOptions) {
  const { store } = ownDatabase();
  const teamId = await store.addTeam('Mill Lane');
  const reader = createReader(options);
  const app = await buildApp(CONFIG, { store, teamId, renderer: quickRenderer(), reader });
  await app.ready();
  onTestFinished(async () => {
    await app.close();
    await reader.close();
  });
  return supertest(app.server);
}

const SONG = { format: 'abc', text: 'X:1\nT:Song\nK:C\nCDEF|\n' };

describe('while a hostile file is read', () => {
  it('everybody else is answered, and the file fails with a sentence after its time', async () => {
    const api = await appWith({ start: FOR_EVER, timeoutMs: 2000 });
    await api.get('/api/health').expect(200);
    let isOver = false;
    const hostile = api
      .post('/api/songs')
      .send(SONG)
      .then((answer) => {
        isOver = true;
        return answer;
      });
    const took: number[] = [];
    while (!isOver) {
      const began = performance.now();
      await api.get('/api/health').expect(200);
      took.push(performance.now() - began);
    }
    const p99 = took.sort((a, b) => a - b)[Math.floor(took.length * 0.99)] ?? NaN;
    process.stdout.write(
      `health while a file is read for ever: ${took.length} answers, p99 ${p99.toFixed(1)} ms\n`,
    );
    // Two cores that others use too; were the file read in the server's own thread, it would be two seconds.
    expect(p99).toBeLessThan(500);
    expect(took.length).toBeGreaterThan(20);
    const problem = expectProblem(await hostile, 'unreadable-song');
    expect(problem.detail).toContain('took longer than 2 seconds');
    expect((await api.get('/api/songs')).body).toEqual({ songs: [] });
  });

  it('too many at once are told to come again', async () => {
    const api = await appWith({ start: FOR_EVER, timeoutMs: 700, mostWaiting: 1 });
    const all = await Promise.all([1, 2, 3].map(() => api.post('/api/songs').send(SONG)));
    const busy = all.filter(({ status }) => status === 503);
    expect(busy).toHaveLength(1);
    for (const answer of busy) expectProblem(answer, 'reader-busy');
  });
});
