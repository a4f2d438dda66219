import { createHash } from 'node:crypto';
import type { Worker } from 'node:worker_threads';
import type { Engraved, EngraveRequest } from '#music';
import type { Job, JobAnswer } from './messages.ts';
import { SizedCache } from './sized-cache.ts';
import { startWorker } from './start-worker.ts';

export interface RendererOptions {
  /** Longest time for one engraving, after which its thread is ended and a new one started. Default 30 s. */
  readonly timeoutMs?: number;
  /** Bytes of engraved sheets that are kept. Default 24 MB. */
  readonly cacheBytes?: number;
  /** Requests that may wait. Default 64. */
  readonly mostWaiting?: number;
  /** After so many engravings the thread is replaced, so that its memory cannot creep. Default 500. */
  readonly jobsPerWorker?: number;
  /** How the thread is started; only tests replace it. */
  readonly start?: () => Worker;
}

export interface Renderer {
  /** The same request is engraved once, however often and at however many places it is asked for. */
  engrave(request: EngraveRequest): Promise<Engraved>;
  /** Ends the thread; what waits is refused. */
  close(): Promise<void>;
}

/** The engraver could not do its work now; asking again may help. */
export class RenderError extends Error {
  readonly code: 'busy' | 'closed' | 'crashed' | 'refused' | 'timeout';

  constructor(code: RenderError['code'], message: string) {
    super(message);
    this.name = 'RenderError';
    this.code = code;
  }
}

interface Waiting {
  readonly job: Job;
  readonly settle: (result: Engraved | RenderError) => void;
}

/** A thread's JavaScript heap; the engraver's own memory lies outside of it. */
const HEAP = { maxOldGenerationSizeMb: 160, maxYoungGenerationSizeMb: 16 } as const;

/** One thread that engraves, started with the first request; requests wait in line. */
export function createRenderer(options: RendererOptions = {}): Renderer {
  const timeoutMs = options.timeoutMs ?? 30_000;
  const mostWaiting = options.mostWaiting ?? 64;
  const jobsPerWorker = options.jobsPerWorker ?? 500;
  const start = options.start ?? (() => startWorker({ resourceLimits: HEAP }));
  const cache = new SizedCache<Engraved>(options.cacheBytes ?? 24_000_000);
  const underway = new Map<string, Promise<Engraved>>();
  const line: Waiting[] = [];
  let worker: Worker | null = null;
  let current: (Waiting & { readonly timer: NodeJS.Timeout }) | null = null;
  let done = 0;
  let nextId = 1;
  let closed = false;

  function finish(result: Engraved | RenderError): void {
    if (!current) return;
    clearTimeout(current.timer);
    const { settle } = current;
    current = null;
    settle(result);
  }

  function drop(): Promise<unknown> {
    const old = worker;
    worker = null;
    done = 0;
    return old ? old.terminate() : Promise.resolve();
  }

  function ready(): Worker {
    if (worker) return worker;
    const fresh = start();
    fresh.unref();
    fresh.on('message', (answer: JobAnswer) => {
      if (worker !== fresh || answer.id !== current?.job.id) return;
      done += 1;
      finish(answer.ok ? answer.engraved : new RenderError('refused', answer.message));
      if (done >= jobsPerWorker) void drop();
      next();
    });
    const failed = (reason: string): void => {
      if (worker !== fresh) return;
      worker = null;
      finish(new RenderError('crashed', reason));
      next();
    };
    fresh.on('error', (error: Error) => failed(`the engraver stopped: ${error.message}`));
    fresh.on('exit', (code) => failed(`the engraver ended with ${code}`));
    worker = fresh;
    return fresh;
  }

  function next(): void {
    const waiting = current ? undefined : line.shift();
    if (!waiting) return;
    const timer = setTimeout(() => {
      const seconds = timeoutMs / 1000;
      void drop();
      finish(new RenderError('timeout', `the engraver took longer than ${seconds} seconds`));
      next();
    }, timeoutMs);
    current = { ...waiting, timer };
    ready().postMessage(waiting.job);
  }

  function queued(request: EngraveRequest): Promise<Engraved> {
    if (line.length >= mostWaiting) {
      return Promise.reject(new RenderError('busy', `${line.length} sheets are waiting already`));
    }
    return new Promise((resolve, reject) => {
      const settle = (result: Engraved | RenderError): void => {
        if (result instanceof RenderError) reject(result);
        else resolve(result);
      };
      line.push({ job: { id: nextId++, request }, settle });
      next();
    });
  }

  return {
    engrave(request) {
      if (closed) return Promise.reject(new RenderError('closed', 'the engraver is closed'));
      const key = createHash('sha256').update(JSON.stringify(request)).digest('base64');
      const kept = cache.get(key);
      if (kept) return Promise.resolve(kept);
      const same = underway.get(key);
      if (same) return same;
      const promise = queued(request)
        .then((engraved) => {
          cache.set(key, engraved, sizeOf(engraved));
          return engraved;
        })
        .finally(() => underway.delete(key));
      underway.set(key, promise);
      return promise;
    },
    async close() {
      closed = true;
      const ended = new RenderError('closed', 'the engraver is closed');
      for (const { settle } of line.splice(0)) settle(ended);
      finish(ended);
      await drop();
    },
  };
}

/** Bytes of the texts; they are ASCII but for the words, so a character is about a byte. */
function sizeOf({ glyphs, systems }: Engraved): number {
  return systems.reduce((sum, { svg }) => sum + svg.length, glyphs.length);
}
