import { parentPort } from 'node:worker_threads';
import type { Job, JobAnswer, Ready } from './messages.ts';

/** Inside a thread: does what it is sent, one job after another. */
export function work<Request, Answer>(work: (request: Request) => Answer | Promise<Answer>): void {
  const port = parentPort;
  if (!port) throw new Error('this runs as a worker thread');
  const answerTo = async ({ id, request }: Job<Request>): Promise<void> => {
    let answer: JobAnswer<Answer>;
    try {
      answer = { id, ok: true, value: await work(request) };
    } catch (error) {
      answer = { id, ok: false, message: error instanceof Error ? error.message : String(error) };
    }
    port.postMessage(answer);
  };
  port.on('message', (job: Job<Request>) => void answerTo(job));
  port.postMessage({ ready: true } satisfies Ready);
}
