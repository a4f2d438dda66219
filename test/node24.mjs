// Runs the API tests under Node 24, whatever Node this is. The registry carries Node itself, with its headers, as a
// package for each platform; the one native module, SQLite, is compiled for it in a linked copy of this folder.
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { prepare, ROOT } from '../server/launch/prepare.mjs';

const VERSION = '24.21.0';
const SOURCES = [
  'music',
  'server',
  'prisma',
  'seed-data',
  'test',
  'web',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
];

prepare();
const home = join(ROOT, 'dist/node24');
const copy = join(home, 'copy');
const system = process.platform === 'win32' ? 'win' : process.platform;
const name = `node-${system}-${process.arch}`;
const npm = process.env['npm_execpath'];
if (!npm) throw new Error('start this with npm run test:node24');

function step(what, command, args, options = {}) {
  console.log(`${what} …`);
  const done = spawnSync(command, args, { encoding: 'utf8', ...options });
  if (done.status === 0) return;
  console.error(done.stdout ?? '', done.stderr ?? '', done.error?.message ?? '');
  console.log('\n0 passed, 1 failed');
  process.exit(1);
}

const runtime = join(home, 'runtime', 'node_modules', name);
const node = join(runtime, process.platform === 'win32' ? 'bin/node.exe' : 'bin/node');
if (!existsSync(node)) {
  mkdirSync(join(home, 'runtime'), { recursive: true });
  writeFileSync(join(home, 'runtime/package.json'), '{ "private": true }');
  step(`Fetching Node ${VERSION}`, process.execPath, [npm, 'install', `${name}@${VERSION}`], {
    cwd: join(home, 'runtime'),
  });
}

/** Hard links where the system has them: a copy of the packages costs no room and two seconds. */
function linkPackages() {
  const links = spawnSync('cp', ['-al', join(ROOT, 'node_modules'), join(copy, 'node_modules')]);
  if (links.status === 0) return;
  cpSync(join(ROOT, 'node_modules'), join(copy, 'node_modules'), { recursive: true });
}

rmSync(copy, { recursive: true, force: true });
mkdirSync(copy, { recursive: true });
for (const source of SOURCES) cpSync(join(ROOT, source), join(copy, source), { recursive: true });
linkPackages();

const env = {
  ...process.env,
  PATH: `${dirname(node)}${delimiter}${process.env['PATH'] ?? ''}`,
  // Compiled for this one run: half the time of a build that is tuned for speed.
  CFLAGS: '-O1',
  CXXFLAGS: '-O1',
};
rmSync(join(copy, 'node_modules/better-sqlite3/build'), { recursive: true, force: true });
step('Compiling SQLite for it', node, [npm, 'rebuild', 'better-sqlite3', `--nodedir=${runtime}`], {
  cwd: copy,
  env,
});

const vitest = ['node_modules/vitest/vitest.mjs', 'run', '--config', 'test/vitest.config.ts'];
const tests = spawnSync(node, [...vitest, '--project', 'api'], {
  cwd: copy,
  env,
  stdio: 'inherit',
});
process.exitCode = tests.status ?? 1;
