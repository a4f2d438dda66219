import type { Worker, WorkerOptions } from 'node:worker_threads';
import { startWorker as start } from '../threads/start-worker.ts';

/** Starts the engraver's thread. */
export function startWorker(options: WorkerOptions): Worker {
  const built = new URL('./engrave-worker.js', import.meta.url);
  const source = new URL('./engrave-worker.source.mjs', import.meta.url);
  return start(built, source, options);
}
