// Brings a fresh clone to where it can run, with nothing but Node. Each step is skipped while its inputs are the same
// and its output is there.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { compileForNode24, sqliteWorks } from './native-sqlite.mjs';

export const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const STAMPS = 'node_modules/.partbook';
const GENERATED = 'server/store/generated';

/** Packages that would ask or call home are told not to. */
const QUIET = {
  CHECKPOINT_DISABLE: '1',
  PRISMA_HIDE_UPDATE_MESSAGE: '1',
  NO_UPDATE_NOTIFIER: '1',
  DISABLE_OPENCOLLECTIVE: '1',
  ADBLOCK: '1',
};

function requireNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const tooOld = major < 20 || (major === 20 && minor < 19);
  if (!tooOld && major < 25) return;
  console.error(
    `Partbook runs on Node.js 20.19 up to 24; this is ${process.versions.node}. Install version 24 from nodejs.org and start again.`,
  );
  process.exit(1);
}

/** Runs a program quietly; where it fails, shows what it said and ends. */
function step(what, command, args, env = {}) {
  const began = Date.now();
  process.stdout.write(`${what} … `);
  const done = spawnSync(command, args, {
    cwd: ROOT,
    env: { ...process.env, ...QUIET, ...env },
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
    shell: process.platform === 'win32' && command !== process.execPath,
  });
  if (done.status === 0) {
    console.log(`${((Date.now() - began) / 1000).toFixed(1)} s`);
    return;
  }
  console.log('failed');
  console.error(done.stdout ?? '', done.stderr ?? '', done.error?.message ?? '');
  console.error(`${what} did not work; what went wrong stands above. Nothing else was changed.`);
  process.exit(1);
}

function* filesIn(path) {
  if (!existsSync(path)) return;
  if (statSync(path).isFile()) {
    yield path;
    return;
  }
  for (const name of readdirSync(path).sort()) {
    const inside = `${path}/${name}`;
    if (inside !== GENERATED) yield* filesIn(inside);
  }
}

function digestOf(inputs) {
  const hash = createHash('sha256');
  hash.update(`${process.versions.modules} ${process.platform} ${process.arch}`);
  for (const input of inputs) {
    for (const file of filesIn(input)) hash.update(file).update(readFileSync(file));
  }
  return hash.digest('hex');
}

function once(name, output, inputs, work) {
  const stamp = join(STAMPS, name);
  const digest = digestOf(inputs);
  if (existsSync(output) && existsSync(stamp) && readFileSync(stamp, 'utf8') === digest) return;
  rmSync(stamp, { force: true });
  work();
  mkdirSync(STAMPS, { recursive: true });
  writeFileSync(stamp, digest);
}

/** npm by the Node that runs this, where npm started it. */
function npm(...args) {
  const path = process.env['npm_execpath'];
  return path ? [process.execPath, [path, ...args]] : ['npm', args];
}

const prisma = (...args) => [
  process.execPath,
  ['node_modules/prisma/build/index.js', ...args, '--config', 'prisma/prisma.config.ts'],
];

/** A database module that brings the program down is found here and not in the middle of a service. */
function requireSqlite() {
  if (sqliteWorks(process.execPath, ROOT)) return;
  console.log('Compiling the database module once more, for this Node …');
  const failed = compileForNode24({
    node: process.execPath,
    npm: process.env['npm_execpath'] ?? '',
    folder: ROOT,
    headers: join(ROOT, STAMPS, 'headers'),
  });
  if (!failed) return;
  console.error(failed);
  console.error(
    `The database module does not work with Node ${process.versions.node}. Use the newest Node 20 or 22 instead.`,
  );
  process.exit(1);
}

export function prepare() {
  requireNode();
  process.chdir(ROOT);
  once('install', 'node_modules/.package-lock.json', ['package.json', 'package-lock.json'], () => {
    // Development packages too, whatever NODE_ENV says: they build what is started.
    step(
      'Installing packages (a minute or two, only the first time)',
      ...npm('ci', '--include=dev'),
    );
    requireSqlite();
  });
  const lock = ['package-lock.json', 'server/launch'];
  once('client', `${GENERATED}/client.ts`, ['prisma/schema.prisma', ...lock], () =>
    step('Making the database client', ...prisma('generate')),
  );
  once('web', 'dist/web/index.html', ['web', 'music', 'server/contract', ...lock], () =>
    step('Building the pages', process.execPath, [
      'node_modules/vite/bin/vite.js',
      'build',
      '--config',
      'web/vite.config.ts',
      '--logLevel',
      'warn',
    ]),
  );
  once('server', 'dist/server/main.js', ['server', 'music', 'prisma', ...lock], () =>
    step('Building the server', process.execPath, ['server/launch/build-server.mjs']),
  );
}

/** Names of the migrations that a database has; of one that is not there yet, none. */
function appliedTo(file) {
  if (!existsSync(file)) return [];
  const here = createRequire(join(ROOT, 'package.json'));
  const Sqlite = createRequire(here.resolve('@prisma/adapter-better-sqlite3'))('better-sqlite3');
  const database = new Sqlite(file, { timeout: 5000 });
  try {
    const done = 'finished_at IS NOT NULL AND rolled_back_at IS NULL';
    return database
      .prepare(`SELECT migration_name AS name FROM _prisma_migrations WHERE ${done}`)
      .all()
      .map(({ name }) => name);
  } catch {
    return [];
  } finally {
    database.close();
  }
}

/** Brings the tables of a database to this version. It wants the database for itself, so it is asked only if it must. */
export function migrate(databaseUrl) {
  const file = databaseUrl.replace(/^file:/, '');
  mkdirSync(dirname(file), { recursive: true });
  const applied = appliedTo(file);
  const wanted = readdirSync('prisma/migrations', { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name);
  if (wanted.every((name) => applied.includes(name))) return;
  step('Preparing the database (nothing else may have it open)', ...prisma('migrate', 'deploy'), {
    DATABASE_URL: databaseUrl,
  });
}
