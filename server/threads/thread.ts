import type { Worker } from 'node:worker_threads';
import type { Job, JobAnswer, Ready } from './messages.ts';

export interface ThreadOptions {
  /** Longest time for one job in ms, after which the thread is ended and a new one started. */
  readonly timeoutMs: number;
  /** Jobs that may wait. */
  readonly mostWaiting: number;
  /** After so many jobs the thread is replaced, so that its memory cannot creep. */
  readonly jobsPerWorker: number;
  readonly start: () => Worker;
  /**
   * Longest time in ms until a new thread says that it is ready; the time of its first job counts from then on. Missing:
   * it says nothing, and its start counts as part of the first job.
   */
  readonly startMs?: number;
  /** How its failures speak of it: `the engraver`, `sheets`. */
  readonly says: { readonly thread: string; readonly jobs: string };
}

/** A thread could not do its work now; asking again may help. */
export class ThreadError extends Error {
  readonly code: 'busy' | 'closed' | 'crashed' | 'refused' | 'timeout';

  constructor(code: ThreadError['code'], message: string) {
    super(message);
    this.name = 'ThreadError';
    this.code = code;
  }
}

interface Waiting<Request, Answer> {
  readonly job: Job<Request>;
  readonly settle: (result: { readonly value: Answer } | ThreadError) => void;
}

/** One thread, started with the first job; jobs wait in line. What ends it ends only the job that it was at. */
export class Thread<Request, Answer> {
  readonly #options: ThreadOptions;
  readonly #line: Waiting<Request, Answer>[] = [];
  #worker: Worker | null = null;
  #isReady = false;
  #current: Waiting<Request, Answer> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #done = 0;
  #nextId = 1;
  #isClosed = false;

  constructor(options: ThreadOptions) {
    this.#options = options;
  }

  /** Fails with a `ThreadError` and with nothing else. */
  ask(request: Request): Promise<Answer> {
    const { mostWaiting, says } = this.#options;
    if (this.#isClosed) return Promise.reject(this.#closed());
    if (this.#line.length >= mostWaiting) {
      const message = `${this.#line.length} ${says.jobs} are waiting already`;
      return Promise.reject(new ThreadError('busy', message));
    }
    return new Promise((resolve, reject) => {
      const job = { id: this.#nextId++, request };
      this.#line.push({
        job,
        settle: (result) => {
          if (result instanceof ThreadError) reject(result);
          else resolve(result.value);
        },
      });
      this.#next();
    });
  }

  /** Ends the thread; what waits is refused. */
  async close(): Promise<void> {
    this.#isClosed = true;
    for (const { settle } of this.#line.splice(0)) settle(this.#closed());
    this.#finish(this.#closed());
    await this.#drop();
  }

  #closed(): ThreadError {
    return new ThreadError('closed', `${this.#options.says.thread} is closed`);
  }

  #finish(result: { readonly value: Answer } | ThreadError): void {
    if (!this.#current) return;
    if (this.#timer) clearTimeout(this.#timer);
    const { settle } = this.#current;
    this.#current = null;
    settle(result);
  }

  #drop(): Promise<unknown> {
    const old = this.#worker;
    this.#worker = null;
    this.#done = 0;
    return old ? old.terminate() : Promise.resolve();
  }

  #ready(): Worker {
    if (this.#worker) return this.#worker;
    const { start, startMs, says, jobsPerWorker } = this.#options;
    const fresh = start();
    this.#isReady = startMs === undefined;
    fresh.unref();
    fresh.on('message', (answer: JobAnswer<Answer> | Ready) => {
      if (this.#worker !== fresh) return;
      if ('ready' in answer) {
        this.#isReady = true;
        if (this.#current) this.#arm();
        return;
      }
      if (answer.id !== this.#current?.job.id) return;
      this.#done += 1;
      this.#finish(
        answer.ok ? { value: answer.value } : new ThreadError('refused', answer.message),
      );
      if (this.#done >= jobsPerWorker) void this.#drop();
      this.#next();
    });
    const failed = (reason: string): void => {
      if (this.#worker !== fresh) return;
      this.#worker = null;
      this.#finish(new ThreadError('crashed', reason));
      this.#next();
    };
    fresh.on('error', (error: Error) => failed(`${says.thread} stopped: ${error.message}`));
    fresh.on('exit', (code) => failed(`${says.thread} ended with ${code}`));
    this.#worker = fresh;
    return fresh;
  }

  /** Counts the time of the job that is underway from now on. */
  #arm(): void {
    const { timeoutMs, startMs = 0, says } = this.#options;
    if (this.#timer) clearTimeout(this.#timer);
    const allowed = this.#isReady ? timeoutMs : startMs;
    this.#timer = setTimeout(() => {
      void this.#drop();
      const message = `${says.thread} took longer than ${allowed / 1000} seconds`;
      this.#finish(new ThreadError('timeout', message));
      this.#next();
    }, allowed);
  }

  #next(): void {
    const waiting = this.#current ? undefined : this.#line.shift();
    if (!waiting) return;
    this.#current = waiting;
    const worker = this.#ready();
    this.#arm();
    worker.postMessage(waiting.job);
  }
}
