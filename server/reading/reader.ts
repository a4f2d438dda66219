import type { Worker } from 'node:worker_threads';
import { failure, type Problem, type Result, type Score, type SongFile } from '#music';
import { startWorker } from '../threads/start-worker.ts';
import { Thread, ThreadError } from '../threads/thread.ts';
import type { ReadRequest, ScoreRequest } from './read-file.ts';

export { readFile, readScore } from './read-file.ts';
export type { ReadRequest } from './read-file.ts';
export { ThreadError as ReadingError } from '../threads/thread.ts';

export interface ReaderOptions {
  /** Longest time for one file. Default 2 s; a hymn takes some milliseconds. */
  readonly timeoutMs?: number;
  /** Files that may wait. Default 64. */
  readonly mostWaiting?: number;
  /** How the thread is started; only tests replace it. */
  readonly start?: () => Worker;
}

export interface Reader {
  /**
   * The songs of a file. One that takes too long or too much memory fails like any other that cannot be read; where too
   * many are waiting, or the program is being closed, it throws a `ReadingError`.
   */
  readonly read: (request: ReadRequest) => Promise<Result<SongFile>>;
  /** The score that some JSON is, likewise. */
  readonly readScore: (json: Uint8Array) => Promise<Result<Score>>;
  /** Ends the thread; what waits is refused. */
  readonly close: () => Promise<void>;
}

/** A thread's JavaScript heap in MB: many times what the largest book of hymns takes. */
const HEAP = { maxOldGenerationSizeMb: 128, maxYoungGenerationSizeMb: 16 } as const;
const FILES_A_THREAD = 500;
const START_MS = 30_000;

function start(): Worker {
  const built = new URL('./reading-worker.js', import.meta.url);
  const source = new URL('./reading-worker.source.mjs', import.meta.url);
  return startWorker(built, source, { resourceLimits: HEAP });
}

function problemOf({ code }: ThreadError, seconds: number): Problem {
  return code === 'timeout'
    ? {
        code: 'takes-too-long',
        message: `Reading this file took longer than ${seconds === 1 ? 'a second' : `${seconds} seconds`} and was given up.`,
      }
    : {
        code: 'too-much-in-it',
        message: 'This file could not be read: it holds more than a song can, or is made wrongly.',
      };
}

/** One thread that reads files, started with the first. */
export function createReader(options: ReaderOptions = {}): Reader {
  const timeoutMs = options.timeoutMs ?? 2000;
  const thread = new Thread<ReadRequest | ScoreRequest, Result<SongFile | Score>>({
    timeoutMs,
    mostWaiting: options.mostWaiting ?? 64,
    jobsPerWorker: FILES_A_THREAD,
    start: options.start ?? start,
    ...(options.start ? {} : { startMs: START_MS }),
    says: { thread: 'the reader', jobs: 'files' },
  });
  const ask = async (request: ReadRequest | ScoreRequest): Promise<Result<SongFile | Score>> => {
    try {
      return await thread.ask(request);
    } catch (error) {
      if (!(error instanceof ThreadError) || error.code === 'busy' || error.code === 'closed') {
        throw error;
      }
      return failure(problemOf(error, timeoutMs / 1000));
    }
  };
  return {
    read: (request) => ask(request) as Promise<Result<SongFile>>,
    readScore: (json) => ask({ json }) as Promise<Result<Score>>,
    close: () => thread.close(),
  };
}
