import type { Score } from '#music';
import type { Answer, Trouble } from '#web/api/http.ts';
import { online } from './online.svelte.ts';
import { Saver } from './saver.svelte.ts';

/** Pause after the last edit before it is sent, ms (ours): a phrase is one saving, and nobody waits for it. */
const PAUSE = 1200;

/** Pause before it is sent again where the server did not answer, ms (ours): twice as long each time, up to the second. */
const AGAIN = [5_000, 60_000] as const;

interface Stored {
  readonly version: number;
}

export interface SavingOptions {
  /** @param version that it builds on; 0: the song is not on the server yet */
  readonly send: (version: number, score: Score) => Promise<Answer<Stored>>;
  /** The server has everything up to this version. */
  readonly onsaved: (version: number) => void;
  /** Someone else saved in between; nothing of here was sent. */
  readonly onstale: () => void | Promise<void>;
}

const PUT_BACK = 'Not saved, and put back as it was. ';

/** Saves a song by itself, a moment after the last edit, one state at a time. What cannot be sent waits. */
export class EditSaving {
  /** Something is not sent yet. */
  waiting = $state(false);
  /** Why the server does not take it, where it does not. */
  refusal = $state.raw<Trouble | null>(null);
  readonly #options: SavingOptions;
  #saver: Saver<Stored, { readonly score: Score }>;
  #latest: Score | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** What was sent last, to be sent once more where it was refused. */
  #sent: Score | null = null;
  #pause: number = AGAIN[0];
  #left = false;
  readonly #again = (): void => void this.now();

  constructor(version: number, options: SavingOptions) {
    this.#options = options;
    this.#saver = $state.raw(this.#begin(version));
    addEventListener('online', this.#again);
  }

  get version(): number {
    return this.#saver.version;
  }

  /** What a person reads of it. */
  get words(): string {
    if (this.refusal) {
      const why = this.refusal.message.replace(PUT_BACK, '');
      return `Not saved: ${why} The song is kept on this device.`;
    }
    if (this.#saver.state === 'saving') return 'Saving…';
    if (this.#saver.state === 'kept') {
      const { status, message } = this.#saver.trouble ?? { status: 0, message: '' };
      if (status > 0) return message;
      return online.now
        ? 'The server does not answer: kept on this device, not saved yet.'
        : 'No network: kept on this device, not saved yet.';
    }
    return this.waiting ? 'Not saved yet' : this.version > 0 ? 'Saved' : 'Nothing written yet';
  }

  /** Whether something stands in the way of saving. */
  get isStuck(): boolean {
    return this.refusal !== null || this.#saver.state === 'kept';
  }

  soon(score: Score): void {
    this.#latest = score;
    this.waiting = true;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.now(), PAUSE);
  }

  /** Sends what waits. */
  async now(): Promise<void> {
    clearTimeout(this.#timer);
    const score = this.#latest ?? (this.refusal && this.#sent);
    this.#latest = null;
    if (score) {
      this.#sent = score;
      this.refusal = null;
      await this.#saver.change({ score });
    } else await this.#saver.retry();
    this.#goOn();
  }

  /** No event tells that a server is back. One that asks for the passphrase is not asked again: signing in does that. */
  #goOn(): void {
    const { state, trouble } = this.#saver;
    if (state !== 'kept') this.#pause = AGAIN[0];
    if (state !== 'kept' || trouble?.status === 401 || this.#latest || this.#left) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(this.#again, this.#pause);
    this.#pause = Math.min(this.#pause * 2, AGAIN[1]);
  }

  /** From now on on another version; what waited is dropped. */
  rebase(version: number): void {
    clearTimeout(this.#timer);
    this.#latest = null;
    [this.waiting, this.refusal] = [false, null];
    this.#saver = this.#begin(version);
  }

  /** Sends what waits and stops listening. */
  leave(): void {
    this.#left = true;
    removeEventListener('online', this.#again);
    void this.now();
  }

  #begin(version: number): Saver<Stored, { readonly score: Score }> {
    const saver: Saver<Stored, { readonly score: Score }> = new Saver(
      { version },
      {
        send: (on, { score }: { readonly score: Score }) => this.#options.send(on, score),
        onsaved: ({ version: now }: Stored) => {
          if (saver !== this.#saver) return;
          this.refusal = saver.trouble;
          if (this.refusal || this.#latest) return;
          this.waiting = false;
          this.#options.onsaved(now);
        },
        onstale: () => (saver === this.#saver ? this.#options.onstale() : undefined),
      },
    );
    return saver;
  }
}
