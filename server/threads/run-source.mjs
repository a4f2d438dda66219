// Runs a thread from its TypeScript source, in development and tests: a thread inherits no loader, and bundling the few
// files anew takes a tenth of a second.
import { mkdirSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { threadId } from 'node:worker_threads';
import { buildSync } from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** @param {string} entry path of the thread's first file, from the root of the project */
export async function runSource(entry) {
  const folder = `${root}node_modules/.partbook`;
  const bundle = `${folder}/${basename(entry, '.ts')}-${process.pid}-${threadId}.mjs`;
  mkdirSync(folder, { recursive: true });
  buildSync({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: bundle,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    packages: 'external',
    logLevel: 'error',
  });
  try {
    await import(pathToFileURL(bundle).href);
  } finally {
    rmSync(bundle, { force: true });
  }
}
