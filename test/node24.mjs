// Runs the API tests under Node 24, whatever Node this is. The registry carries Node itself as a package for each
// platform; SQLite is compiled for it in a linked copy of this folder.
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { compileForNode24, fetchPackage, nodePackage } from '../server/launch/native-sqlite.mjs';
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

function giveUp(why) {
  console.error(why);
  console.log('\n0 passed, 1 failed');
  process.exit(1);
}

prepare();
const npm = process.env['npm_execpath'] ?? giveUp('Start this with: npm run test:node24');
const home = join(ROOT, 'dist/node24');
const copy = join(home, 'copy');

console.log(`Fetching Node ${VERSION} …`);
const runtime = fetchPackage(npm, nodePackage(), VERSION, join(home, 'runtime'));
if (!runtime) giveUp(`Node ${VERSION} could not be fetched.`);
const node = join(runtime, process.platform === 'win32' ? 'bin/node.exe' : 'bin/node');

rmSync(copy, { recursive: true, force: true });
mkdirSync(copy, { recursive: true });
for (const source of SOURCES) {
  if (existsSync(join(ROOT, source))) {
    cpSync(join(ROOT, source), join(copy, source), { recursive: true });
  }
}
// Hard links where the system has them: a copy of the packages costs no room and two seconds.
const packages = [join(ROOT, 'node_modules'), join(copy, 'node_modules')];
if (spawnSync('cp', ['-al', ...packages]).status !== 0) cpSync(...packages, { recursive: true });

console.log('Compiling SQLite for it …');
// For this one run: half the time of a build that is tuned for speed.
const flags = '-O1';
const headers = join(home, 'headers');
const failed = compileForNode24({ node, npm, folder: copy, headers, flags });
if (failed) giveUp(failed);

const env = { ...process.env, PATH: `${dirname(node)}${delimiter}${process.env['PATH'] ?? ''}` };
const args = ['run', '--config', 'test/vitest.config.ts', '--project', 'api'];
const vitest = ['node_modules/vitest/vitest.mjs', ...args];
const tests = spawnSync(node, vitest, { cwd: copy, env, stdio: 'inherit' });
process.exitCode = tests.status ?? 1;
