import type { Worker } from 'node:worker_threads';
import { startWorker } from '../../threads/start-worker.ts';
import { Thread } from '../../threads/thread.ts';
import type { PacketRequest } from './pages.ts';

export { ThreadError as BindingError } from '../../threads/thread.ts';
export type { PacketPage, PacketRequest } from './pages.ts';
export { engravedFor, type Paper, type Print } from './paper.ts';

export interface BinderOptions {
  /** Longest time for one packet, after which its thread is ended and a new one started. Default 30 s. */
  readonly timeoutMs?: number;
  /** Packets that may wait. Default 16. */
  readonly mostWaiting?: number;
  /** After so many packets the thread is replaced, so that its memory cannot creep. Default 50. */
  readonly jobsPerWorker?: number;
  /** How the thread is started; only tests replace it. */
  readonly start?: () => Worker;
}

export interface Binder {
  /** One person's sheets as a PDF. Fails with a `BindingError`. */
  readonly bind: (request: PacketRequest) => Promise<Uint8Array>;
  /** Ends the thread; what waits is refused. */
  readonly close: () => Promise<void>;
}

/** A thread's JavaScript heap in MB: several times what a packet of thirty songs takes. */
const HEAP = { maxOldGenerationSizeMb: 192, maxYoungGenerationSizeMb: 32 } as const;
const START_MS = 30_000;

function start(): Worker {
  const built = new URL('./packet-worker.js', import.meta.url);
  const source = new URL('./packet-worker.source.mjs', import.meta.url);
  return startWorker(built, source, { resourceLimits: HEAP });
}

/** One thread that binds packets, started with the first. */
export function createBinder(options: BinderOptions = {}): Binder {
  const thread = new Thread<PacketRequest, Uint8Array>({
    timeoutMs: options.timeoutMs ?? 30_000,
    mostWaiting: options.mostWaiting ?? 16,
    jobsPerWorker: options.jobsPerWorker ?? 50,
    start: options.start ?? start,
    ...(options.start ? {} : { startMs: START_MS }),
    says: { thread: 'the binder', jobs: 'packets' },
  });
  return { bind: (request) => thread.ask(request), close: () => thread.close() };
}
