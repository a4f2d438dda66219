import type {
  BestOrder,
  LinePages,
  LineToPlan,
  Mishaps,
  OrderOptions,
  OrderTeam,
  StandPlan,
  StandService,
} from '#music';
import type { Job, WorkerSays } from './messages.ts';

/** Is told of a plan and then, song by song, of what it changes on the stands. */
export interface PlanHeard {
  readonly onplan: (plan: StandPlan) => void;
  readonly onpages: (pages: LinePages) => void;
  readonly ontold: () => void;
}

interface Waiting {
  readonly hear: (said: WorkerSays) => void;
  readonly failed: (error: Error) => void;
}

/** Plans on this device, in a worker: no network is asked, and the page goes on answering. Started with the first question. */
export class DevicePlanner {
  #worker: Worker | null = null;
  #next = 0;
  readonly #waiting = new Map<number, Waiting>();

  /** What stands on everybody’s stands; it is worked out ahead what may be asked of it. */
  stands(service: StandService): void {
    this.#send({ kind: 'stands', service });
  }

  /** @throws Error where the worker does not start or fails */
  leastChange(mishaps: Mishaps, { onplan, onpages, ontold }: PlanHeard): Promise<void> {
    const id = (this.#next += 1);
    return new Promise((done, failed) => {
      const hear = (said: WorkerSays): void => {
        if (said.kind === 'plan') onplan(said.plan);
        else if (said.kind === 'pages') onpages(said.pages);
        else if (said.kind === 'told') {
          this.#waiting.delete(id);
          ontold();
          done();
        }
      };
      this.#waiting.set(id, { hear, failed });
      this.#send({ kind: 'least change', id, mishaps });
    });
  }

  /** @throws Error where the worker does not start or fails */
  bestOrder(
    items: readonly LineToPlan[],
    team: OrderTeam,
    options: Omit<OrderOptions, 'onStands'>,
  ): Promise<BestOrder> {
    const id = (this.#next += 1);
    return new Promise((done, failed) => {
      const hear = (said: WorkerSays): void => {
        this.#waiting.delete(id);
        if (said.kind === 'best') done(said.best);
      };
      this.#waiting.set(id, { hear, failed });
      this.#send({ kind: 'best order', id, items, team, options });
    });
  }

  /** Ends the worker; what waits is never answered. */
  close(): void {
    this.#worker?.terminate();
    this.#worker = null;
    this.#waiting.clear();
  }

  #send(job: Job): void {
    this.#worker ??= this.#started();
    this.#worker.postMessage(job);
  }

  #started(): Worker {
    const worker = new Worker(new URL('./plan.worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', ({ data }: MessageEvent<WorkerSays>) => {
      const waiting = this.#waiting.get(data.id);
      if (data.kind === 'failed') this.#fail(data.id, data.message);
      else waiting?.hear(data);
    });
    worker.addEventListener('error', () => {
      this.#worker?.terminate();
      this.#worker = null;
      for (const id of this.#waiting.keys()) this.#fail(id, 'the planner stopped');
    });
    return worker;
  }

  #fail(id: number, message: string): void {
    const waiting = this.#waiting.get(id);
    this.#waiting.delete(id);
    waiting?.failed(new Error(message));
  }
}
