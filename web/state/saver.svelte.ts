import type { Answer, Trouble } from '#web/api/http.ts';

interface Versioned {
  readonly version: number;
}

export interface SaverOptions<Value extends Versioned, Change extends object> {
  readonly send: (version: number, change: Change) => Promise<Answer<Value>>;
  /** What the server has now. */
  readonly onsaved: (value: Value) => void;
  /** Someone else changed it in between: fetch it anew. */
  readonly onstale: () => void | Promise<void>;
}

/**
 * Saves by itself: one change at a time, in order, each on the version of the one before; what comes meanwhile is
 * laid together. What could not be sent is kept and can be sent again.
 */
export class Saver<Value extends Versioned, Change extends object> {
  state = $state<'saved' | 'saving' | 'kept'>('saved');
  trouble = $state.raw<Trouble | null>(null);
  version: number;
  readonly #options: SaverOptions<Value, Change>;
  #pending: Change | null = null;

  constructor(version: number, options: SaverOptions<Value, Change>) {
    this.version = version;
    this.#options = options;
  }

  change(change: Change): Promise<void> {
    this.#pending = { ...this.#pending, ...change };
    return this.state === 'saving' ? Promise.resolve() : this.retry();
  }

  /** Sends what waits. */
  async retry(): Promise<void> {
    while (this.#pending) {
      const change: Change = this.#pending;
      this.#pending = null;
      this.state = 'saving';
      const answer = await this.#options.send(this.version, change);
      if (answer.ok) {
        this.version = answer.value.version;
        this.trouble = null;
        if (!this.#pending) this.#options.onsaved(answer.value);
        continue;
      }
      this.trouble = answer.trouble;
      if (answer.trouble.code === 'offline') {
        this.#pending = { ...change, ...(this.#pending as Change | null) };
        this.state = 'kept';
        return;
      }
      if (answer.trouble.status === 412) await this.#options.onstale();
      break;
    }
    this.state = 'saved';
  }
}
