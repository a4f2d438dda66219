import { createHash } from 'node:crypto';
import type { Worker } from 'node:worker_threads';
import type { Engraved, EngraveRequest } from '#music';
import { Thread, ThreadError } from '../threads/thread.ts';
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
export { ThreadError as RenderError };

/** A thread's JavaScript heap; the engraver's own memory lies outside of it. */
const HEAP = { maxOldGenerationSizeMb: 160, maxYoungGenerationSizeMb: 16 } as const;

/** One thread that engraves, started with the first request; requests wait in line. */
export function createRenderer(options: RendererOptions = {}): Renderer {
  const cache = new SizedCache<Engraved>(options.cacheBytes ?? 24_000_000);
  const underway = new Map<string, Promise<Engraved>>();
  const thread = new Thread<EngraveRequest, Engraved>({
    timeoutMs: options.timeoutMs ?? 30_000,
    mostWaiting: options.mostWaiting ?? 64,
    jobsPerWorker: options.jobsPerWorker ?? 500,
    start: options.start ?? (() => startWorker({ resourceLimits: HEAP })),
    says: { thread: 'the engraver', jobs: 'sheets' },
  });
  let closed = false;
  return {
    engrave(request) {
      if (closed) return Promise.reject(new ThreadError('closed', 'the engraver is closed'));
      const key = createHash('sha256').update(JSON.stringify(request)).digest('base64');
      const kept = cache.get(key);
      if (kept) return Promise.resolve(kept);
      const same = underway.get(key);
      if (same) return same;
      const promise = thread
        .ask(request)
        .then((engraved) => {
          cache.set(key, engraved, sizeOf(engraved));
          return engraved;
        })
        .finally(() => underway.delete(key));
      underway.set(key, promise);
      return promise;
    },
    close() {
      closed = true;
      return thread.close();
    },
  };
}

/** Bytes of the texts; they are ASCII but for the words, so a character is about a byte. */
function sizeOf({ glyphs, systems }: Engraved): number {
  return systems.reduce((sum, { svg }) => sum + svg.length, glyphs.length);
}
