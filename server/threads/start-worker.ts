import { existsSync } from 'node:fs';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/**
 * Starts a thread: in a build from the file beside the bundle, in development and tests from the TypeScript source.
 * @param built where a build has it
 * @param source a module that bundles the source and runs it
 */
export function startWorker(built: URL, source: URL, options: WorkerOptions): Worker {
  return new Worker(existsSync(built) ? built : source, { ...options, execArgv: [] });
}
