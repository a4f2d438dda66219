import type { Engraved, EngraveRequest } from '#music';
import type { WorkerSays } from './messages.ts';

interface Waiting {
  readonly done: (engraved: Engraved) => void;
  readonly failed: (error: Error) => void;
}

/** Some megabytes: fetched when the page is at rest, and not where a device asks to save data. */
function wantsIt(): boolean {
  const { connection } = navigator as Navigator & { connection?: { saveData?: boolean } };
  return connection?.saveData !== true;
}

function atRest(work: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: 4000 });
  else setTimeout(work, 1500);
}

/** The engraver on this device: the same music and the same settings as on the server, without the network. */
class Engraver {
  /** Whether it can be asked; until then the server engraves. */
  isReady = false;
  #worker: Worker | null = null;
  #next = 0;
  readonly #waiting = new Map<number, Waiting>();

  get isStarted(): boolean {
    return this.#worker !== null;
  }

  /** Whether it may be fetched for later. */
  get isWanted(): boolean {
    return wantsIt();
  }

  /** Fetches and starts it once the page is at rest, and does then what else can wait for that. */
  start(also: () => void = () => undefined): void {
    if (!wantsIt()) return;
    atRest(() => {
      also();
      this.startNow();
    });
  }

  /** Fetches and starts it at once, for a page that cannot do without. */
  startNow(): void {
    if (this.#worker) return;
    this.#worker = new Worker(new URL('./engraver.worker.ts', import.meta.url), {
      type: 'module',
    });
    this.#worker.addEventListener('message', ({ data }: MessageEvent<WorkerSays>) =>
      this.#hear(data),
    );
    this.#worker.addEventListener('error', () => this.#stop());
  }

  /** @throws Error where the engraver refuses the score */
  engrave(request: EngraveRequest): Promise<Engraved> {
    const worker = this.#worker;
    if (!worker) return Promise.reject(new Error('the engraver has not been started'));
    this.#next += 1;
    const id = this.#next;
    return new Promise((done, failed) => {
      this.#waiting.set(id, { done, failed });
      worker.postMessage({ id, request });
    });
  }

  #hear(said: WorkerSays): void {
    if (said.kind === 'ready') {
      this.isReady = true;
      return;
    }
    const waiting = this.#waiting.get(said.id);
    this.#waiting.delete(said.id);
    if (said.kind === 'done') waiting?.done(said.engraved);
    else waiting?.failed(new Error(said.message));
  }

  /** It did not load or died: the server goes on engraving. */
  #stop(): void {
    this.isReady = false;
    this.#worker?.terminate();
    this.#worker = null;
    for (const { failed } of this.#waiting.values()) failed(new Error('the engraver stopped'));
    this.#waiting.clear();
  }
}

export const engraver = new Engraver();
