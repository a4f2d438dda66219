import { existsSync } from 'node:fs';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/** Where a build puts the worker, seen from the file that this module has become part of. */
const BUILT = [
  './engraver.worker.js',
  './render/engraver.worker.js',
  '../render/engraver.worker.js',
];

/**
 * Starts the engraver's thread: from the built file where there is one; from the TypeScript source in development and
 * tests, through tsx (its loader is registered in the thread, which inherits none from the test runner).
 */
export function startWorker(options: WorkerOptions): Worker {
  const built = BUILT.map((path) => new URL(path, import.meta.url)).find((url) => existsSync(url));
  if (built) return new Worker(built, { ...options, execArgv: [] });
  const source = new URL('./engraver.worker.ts', import.meta.url);
  return new Worker(source, { ...options, execArgv: ['--import', 'tsx'] });
}
