import { ServiceOrder, Stands, type StandService } from '#music';
import type { Job, WorkerSays } from './messages.ts';

const say = (message: WorkerSays): void => postMessage(message);
const memory = Stands.newMemory();
let service: StandService | null = null;
/** What is worked out before anybody asks; a step at a time, and never before a question. */
let ahead: Generator<void> | null = null;
/** The last question about the stands; an earlier one is broken off. */
let latest = 0;

/** Lets the messages in that came meanwhile. */
const turn = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

async function leastChange(id: number, job: Extract<Job, { kind: 'least change' }>): Promise<void> {
  if (!service) throw new Error('nobody said what stands on the stands');
  latest = id;
  const change = new Stands.LeastChange(service, job.mishaps, memory);
  say({ kind: 'plan', id, plan: change.plan });
  for (const { item } of change.plan.lines) {
    await turn();
    if (latest !== id) return;
    const pages = change.pagesOf(item);
    if (pages) say({ kind: 'pages', id, pages });
  }
  say({ kind: 'told', id });
}

async function warm(own: Generator<void>): Promise<void> {
  for (;;) {
    await turn();
    if (ahead !== own || own.next().done) return;
  }
}

async function work(job: Job): Promise<void> {
  if (job.kind === 'stands') {
    service = job.service;
    ahead = Stands.warming(service, memory);
    void warm(ahead);
    return;
  }
  const { id } = job;
  try {
    if (job.kind === 'least change') await leastChange(id, job);
    else {
      const { items, team, options } = job;
      say({ kind: 'best', id, best: ServiceOrder.best(items, team, options) });
    }
  } catch (error) {
    say({ kind: 'failed', id, message: error instanceof Error ? error.message : String(error) });
  }
}

addEventListener('message', ({ data }: MessageEvent<Job>) => void work(data));
