import { existsSync } from 'node:fs';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/**
 * Starts the engraver's thread: in a build from the file beside the bundle that this module has become part of; in
 * development and tests from the TypeScript source.
 */
export function startWorker(options: WorkerOptions): Worker {
  const built = new URL('./engrave-worker.js', import.meta.url);
  const source = new URL('./engrave-worker.source.mjs', import.meta.url);
  return new Worker(existsSync(built) ? built : source, { ...options, execArgv: [] });
}
