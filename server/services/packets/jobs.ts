/** How far a piece of work is. */
export interface Progress {
  readonly done: number;
  readonly of: number;
}

/** Nobody waited for it any more. */
export class Stopped extends Error {
  constructor() {
    super('nobody waits for it any more');
    this.name = 'Stopped';
  }
}

/** Too much is waiting already. */
export class TooMany extends Error {
  constructor() {
    super('too much is waiting already');
    this.name = 'TooMany';
  }
}

/** How a piece of work says how far it is. It throws `Stopped` where the work need not go on. */
export type Tell = (progress: Progress) => void;

export interface Waiter {
  readonly ontell?: Tell;
  /** Aborted where this one does not wait any more. */
  readonly signal?: AbortSignal;
}

interface Job<T> {
  readonly promise: Promise<T>;
  readonly waiters: Set<Waiter>;
  last: Progress | null;
  isStopped: boolean;
}

/**
 * Pieces of work that take seconds, one after another. The same work is done once, however many wait for it; it stops
 * at its next step once the last of them is gone.
 */
export class Jobs<T> {
  readonly #jobs = new Map<string, Job<T>>();
  readonly #most: number;
  #line: Promise<unknown> = Promise.resolve();

  /** @param most pieces of work at a time, the one that is done among them */
  constructor(most: number) {
    this.#most = most;
  }

  /** @throws TooMany, Stopped, and what the work throws */
  async wait(key: string, waiter: Waiter, work: (tell: Tell) => Promise<T>): Promise<T> {
    const { signal, ontell } = waiter;
    if (signal?.aborted) throw new Stopped();
    const job = this.#jobs.get(key) ?? this.#begin(key, work);
    job.waiters.add(waiter);
    if (job.last) ontell?.(job.last);
    const leave = (): void => {
      job.waiters.delete(waiter);
      if (job.waiters.size > 0) return;
      job.isStopped = true;
      // Whoever comes from now on begins it anew.
      if (this.#jobs.get(key) === job) this.#jobs.delete(key);
    };
    signal?.addEventListener('abort', leave);
    try {
      return await job.promise;
    } finally {
      signal?.removeEventListener('abort', leave);
      job.waiters.delete(waiter);
    }
  }

  #begin(key: string, work: (tell: Tell) => Promise<T>): Job<T> {
    if (this.#jobs.size >= this.#most) throw new TooMany();
    const tell: Tell = (progress) => {
      if (job.isStopped) throw new Stopped();
      job.last = progress;
      for (const { ontell } of job.waiters) ontell?.(progress);
    };
    const promise = this.#line.then(() => {
      if (job.isStopped) throw new Stopped();
      return work(tell);
    });
    const job: Job<T> = { promise, waiters: new Set(), last: null, isStopped: false };
    this.#line = promise.catch(() => undefined);
    this.#jobs.set(key, job);
    const end = (): void => {
      if (this.#jobs.get(key) === job) this.#jobs.delete(key);
    };
    promise.then(end, end);
    return job;
  }
}
