export interface Notice {
  readonly words: string;
  readonly undo: (() => void | Promise<void>) | null;
}

/** How long an undo stays on the screen, in ms. Long: reading and reaching takes people different times. */
const STAYS = 12_000;

/** One quiet line at the foot: what has just happened, and the way back. */
class Notices {
  current = $state<Notice | null>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;

  say(words: string, undo: Notice['undo'] = null): void {
    clearTimeout(this.#timer);
    this.current = { words, undo };
    this.#timer = setTimeout(() => (this.current = null), STAYS);
  }

  /** Keeps the line while someone is on it. */
  hold(): void {
    clearTimeout(this.#timer);
  }

  async undo(): Promise<void> {
    const undo = this.current?.undo;
    this.dismiss();
    await undo?.();
  }

  dismiss(): void {
    clearTimeout(this.#timer);
    this.current = null;
  }
}

export const notices = new Notices();
