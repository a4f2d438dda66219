/**
 * `node --import ./test/bench/typescript.mjs file.ts`: TypeScript as the production build
 * translates it. Loaders that keep the names of functions slow down whatever makes many of them,
 * and would be measured too.
 */
import { readFile } from 'node:fs/promises';
import { register } from 'node:module';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import { transform } from 'esbuild';

if (isMainThread) register(import.meta.url);

/** The loading hook; Node runs it in a thread of its own. */
export async function load(url, context, next) {
  if (!url.startsWith('file:') || !url.endsWith('.ts')) return next(url, context);
  const path = fileURLToPath(url);
  const { code } = await transform(await readFile(path, 'utf8'), {
    loader: 'ts',
    format: 'esm',
    target: 'node20',
    sourcefile: path,
    sourcemap: 'inline',
  });
  return { format: 'module', source: code, shortCircuit: true };
}
