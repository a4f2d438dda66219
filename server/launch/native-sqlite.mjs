// SQLite is the one native module. It is fetched built, or compiled here where it cannot be fetched.
//
// Compiled against the headers of Node 24.19 to 24.21 it brings the program down at the next garbage collection: their
// ObjectWrap removes a cleanup hook at a moment that has no environment (nodejs/node issue 65446, fixed for
// better-sqlite3 only in 13, which does not run on Node 20). The headers of 24.18 have the same binary interface and
// not that fault, so where the module fails the probe it is compiled again with those.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';

const SOUND_HEADERS = '24.18.0';

/** The registry's package of Node itself, for this machine. */
export function nodePackage() {
  const system = process.platform === 'win32' ? 'win' : process.platform;
  return `node-${system}-${process.arch}`;
}

/** Enough statements that garbage is collected while it runs and when it ends. */
const PROBE = `
  const Sqlite = require('better-sqlite3');
  const database = new Sqlite(':memory:');
  for (let round = 0; round < 100000; round += 1) database.prepare('SELECT ' + round).get();
`;

/** Whether the module of a folder lives through garbage collections under a Node. */
export function sqliteWorks(node, folder) {
  return (
    spawnSync(node, ['--max-semi-space-size=1', '-e', PROBE], { cwd: folder, stdio: 'ignore' })
      .status === 0
  );
}

/** Fetches a package of the registry to a folder of its own, by the npm that runs this; where it is then, or null. */
export function fetchPackage(npm, name, version, folder) {
  const place = join(folder, 'node_modules', name);
  if (existsSync(place)) return place;
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'package.json'), '{ "private": true }');
  const done = spawnSync(process.execPath, [npm, 'install', `${name}@${version}`], { cwd: folder });
  return done.status === 0 ? place : null;
}

/**
 * Compiles the module of a folder for a Node 24. What the compiler said where it failed, else null.
 * @param flags for the compiler; missing: its own
 */
export function compileForNode24({ node, npm, folder, headers, flags }) {
  const nodedir = fetchPackage(npm, nodePackage(), SOUND_HEADERS, headers);
  if (!nodedir) return `Node ${SOUND_HEADERS}, whose headers are needed, could not be fetched.`;
  rmSync(join(folder, 'node_modules/better-sqlite3/build'), { recursive: true, force: true });
  const args = [npm, 'rebuild', 'better-sqlite3', '--build-from-source', `--nodedir=${nodedir}`];
  const done = spawnSync(node, args, {
    cwd: folder,
    encoding: 'utf8',
    env: {
      ...process.env,
      PATH: `${dirname(node)}${delimiter}${process.env['PATH'] ?? ''}`,
      ...(flags && { CFLAGS: flags, CXXFLAGS: flags }),
    },
  });
  if (done.status !== 0) return `${done.stdout ?? ''}${done.stderr ?? ''}`;
  return sqliteWorks(node, folder) ? null : 'SQLite was compiled and still brings Node down.';
}
