// `npm test`: the checks, then the built server in a real browser. The last line counts the tests of all runs.
import { spawn, spawnSync } from 'node:child_process';
import { prepare, ROOT } from '../server/launch/prepare.mjs';
import { findChromium, HOW_TO_GET_ONE } from './support/find-chromium.mjs';

/** Debian as root can be given a browser; anybody else is told how. */
function requireChromium() {
  if (findChromium()) return;
  const debian = process.platform === 'linux' && process.getuid?.() === 0;
  if (debian && !process.env['CHROMIUM'] && spawnSync('apt-get', ['--version']).status === 0) {
    console.log('Installing Chromium for the browser tests …');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    spawnSync('apt-get', ['update', '-qq'], { env, stdio: 'ignore' });
    const packages = ['install', '-y', '-qq', '--no-install-recommends', 'chromium'];
    spawnSync('apt-get', packages, { env, stdio: 'ignore' });
    if (findChromium()) return;
  }
  console.error(HOW_TO_GET_ONE);
  process.exit(1);
}

const COUNTS = /^(\d+) passed, (\d+) failed(?:, (\d+) skipped)?$/gm;

/** Runs a step and shows what it says; what it counted, a step that failed without counting being one failure. */
function run(command, args) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: ROOT, stdio: ['ignore', 'pipe', 'inherit'] });
    let said = '';
    child.stdout.on('data', (chunk) => {
      said += chunk;
      process.stdout.write(chunk);
    });
    child.on('error', () => resolve({ passed: 0, failed: 1, skipped: 0 }));
    child.on('close', (code) => {
      const [, passed = 0, failed = 0, skipped = 0] = [...said.matchAll(COUNTS)].at(-1) ?? [];
      const count = { passed: Number(passed), failed: Number(failed), skipped: Number(skipped) };
      if (code !== 0 && count.failed === 0) count.failed = 1;
      resolve(count);
    });
  });
}

function npmRun(script) {
  const path = process.env['npm_execpath'];
  return path
    ? run(process.execPath, [path, 'run', '--silent', script])
    : run('npm', ['run', script]);
}

prepare();
requireChromium();
const total = { passed: 0, failed: 0, skipped: 0 };
for (const script of ['check', 'browser']) {
  console.log(`\n— ${script} —`);
  const count = await npmRun(script);
  for (const name of Object.keys(total)) total[name] += count[name];
}
const skipped = total.skipped > 0 ? `, ${total.skipped} skipped` : '';
console.log(`\n${total.passed} passed, ${total.failed} failed${skipped}`);
process.exitCode = total.failed === 0 ? 0 : 1;
