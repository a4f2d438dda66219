import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freePort, migrate } from '../browser/support/running-app.ts';
import type { Row } from './measure.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const LIMIT_MS = 2000;
const STARTS = 7;

/** Milliseconds from starting the program until it says that it listens. */
async function startOnce(database: string): Promise<number> {
  const port = await freePort();
  const began = performance.now();
  const server = spawn(process.execPath, [join(ROOT, 'dist/server/main.js')], {
    cwd: ROOT,
    env: { ...process.env, HOST: '127.0.0.1', PORT: String(port), DATABASE_URL: database },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((done) => server.once('exit', () => done()));
  const took = await new Promise<number>((resolve, reject) => {
    server.once('exit', (code) => reject(new Error(`the server ended with ${code}`)));
    server.stdout.on('data', (data: Buffer) => {
      if (data.toString().includes('Partbook is open')) resolve(performance.now() - began);
    });
  });
  server.kill('SIGTERM');
  await ended;
  return took;
}

/** From start to listening, on a database that is there, as on every start but the first. */
export async function bench(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'partbook-start-'));
  try {
    const database = `file:${join(folder, 'partbook.db')}`;
    await migrate(database);
    const first = await startOnce(database);
    const times: number[] = [];
    for (let start = 0; start < STARTS; start++) times.push(await startOnce(database));
    const sorted = [...times].sort((a, b) => a - b);
    const median = sorted[sorted.length >> 1] ?? NaN;
    const said = (list: readonly number[]) => list.map((each) => Math.round(each)).join(', ');
    return [
      {
        name: 'from start to listening / 2 seconds',
        ratio: median / LIMIT_MS,
        limit: 1,
        detail: `median of ${STARTS}: ${Math.round(median)} ms (${said(sorted)}); the first, which writes the demo: ${Math.round(first)} ms`,
      },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
