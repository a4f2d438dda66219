import { parentPort } from 'node:worker_threads';
import type { Job, JobAnswer, Ready } from './messages.ts';

/** Inside a thread: does what it is sent, one job after another. */
export function work<Request, Answer>(work: (request: Request) => Answer): void {
  const port = parentPort;
  if (!port) throw new Error('this runs as a worker thread');
  port.on('message', ({ id, request }: Job<Request>) => {
    let answer: JobAnswer<Answer>;
    try {
      answer = { id, ok: true, value: work(request) };
    } catch (error) {
      answer = { id, ok: false, message: error instanceof Error ? error.message : String(error) };
    }
    port.postMessage(answer);
  });
  port.postMessage({ ready: true } satisfies Ready);
}
