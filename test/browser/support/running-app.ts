import { execFile, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const MAIN = join(ROOT, 'dist/server/main.js');

export interface RunningApp {
  /** `http://127.0.0.1:41234` */
  readonly address: string;
  /** What the server wrote to its output. */
  readonly said: () => string;
  readonly stop: () => Promise<void>;
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  await new Promise((done) => server.close(done));
  if (address === null || typeof address === 'string') throw new Error('no free port');
  return address.port;
}

async function answers(address: string): Promise<boolean> {
  try {
    return (await fetch(`${address}/api/health`)).ok;
  } catch {
    return false;
  }
}

/** Makes the tables the way a start does. */
export async function migrate(database: string): Promise<void> {
  const args = ['migrate', 'deploy', '--config', 'prisma/prisma.config.ts'];
  await promisify(execFile)(process.execPath, ['node_modules/prisma/build/index.js', ...args], {
    cwd: ROOT,
    env: {
      ...process.env,
      DATABASE_URL: database,
      CHECKPOINT_DISABLE: '1',
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
    },
  });
}

/** A team that has just begun: nobody, and no song. */
const NEW_TEAM = {
  name: 'A new team',
  members: [],
  songs: [],
  usually: { player: '', lead: '', singers: [] },
};

/**
 * Starts the built server as people run it, with a database of its own that goes with it.
 * @param begins with nobody and no song, or with the demo of a fresh install
 */
export async function startApp(begins: 'empty' | 'demo' = 'empty'): Promise<RunningApp> {
  if (!existsSync(MAIN)) throw new Error('The server is not built: npm run build.');
  const folder = await mkdtemp(join(tmpdir(), 'partbook-browser-'));
  const port = await freePort();
  const database = `file:${join(folder, 'partbook.db')}`;
  await Promise.all([
    migrate(database),
    writeFile(join(folder, 'team.json'), JSON.stringify(NEW_TEAM)),
  ]);
  let output = '';
  const server = spawn(process.execPath, [MAIN], {
    cwd: ROOT,
    env: {
      ...process.env,
      HOST: '127.0.0.1',
      PORT: String(port),
      DATABASE_URL: database,
      ...(begins === 'empty' ? { SEED_DATA: folder } : {}),
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  server.stdout.on('data', (data: Buffer) => (output += data.toString()));
  server.stderr.on('data', (data: Buffer) => (output += data.toString()));
  const ended = new Promise<void>((done) => server.once('exit', () => done()));
  const address = `http://127.0.0.1:${port}`;
  const deadline = Date.now() + 30_000;
  while (!(await answers(address))) {
    if (server.exitCode !== null || Date.now() > deadline) {
      server.kill();
      throw new Error(`the server did not start:\n${output}`);
    }
    await new Promise((done) => setTimeout(done, 100));
  }
  return {
    address,
    said: () => output,
    stop: async () => {
      server.kill('SIGTERM');
      await ended;
      await rm(folder, { recursive: true, force: true });
    },
  };
}
