import type { Worker } from 'node:worker_threads';
import type { BestOrder } from '#music';
import { startWorker } from '../threads/start-worker.ts';
import { Thread } from '../threads/thread.ts';
import type { PlanRequest } from './order-plans.ts';

export { ThreadError as PlanningError } from '../threads/thread.ts';
export type { PlanRequest } from './order-plans.ts';

export interface PlannerOptions {
  /** Longest time for one order. Default 30 s; ten songs take a second or two. */
  readonly timeoutMs?: number;
  /** Orders that may wait. Default 4. */
  readonly mostWaiting?: number;
  /** How the thread is started; only tests replace it. */
  readonly start?: () => Worker;
}

export interface Planner {
  /** The best keys, leads and order. Fails with a `PlanningError`. */
  readonly plan: (request: PlanRequest) => Promise<BestOrder>;
  /** Ends the thread; what waits is refused. */
  readonly close: () => Promise<void>;
}

/** A thread's JavaScript heap in MB: several times what fourteen songs in any order take. */
const HEAP = { maxOldGenerationSizeMb: 512, maxYoungGenerationSizeMb: 32 } as const;
const ORDERS_A_THREAD = 200;
const START_MS = 30_000;

function start(): Worker {
  const built = new URL('./planning-worker.js', import.meta.url);
  const source = new URL('./planning-worker.source.mjs', import.meta.url);
  return startWorker(built, source, { resourceLimits: HEAP });
}

/** One thread that works out orders, started with the first. */
export function createPlanner(options: PlannerOptions = {}): Planner {
  const thread = new Thread<PlanRequest, BestOrder>({
    timeoutMs: options.timeoutMs ?? 30_000,
    mostWaiting: options.mostWaiting ?? 4,
    jobsPerWorker: ORDERS_A_THREAD,
    start: options.start ?? start,
    ...(options.start ? {} : { startMs: START_MS }),
    says: { thread: 'the planner', jobs: 'orders' },
  });
  return { plan: (request) => thread.ask(request), close: () => thread.close() };
}
