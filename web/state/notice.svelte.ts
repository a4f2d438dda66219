export interface Notice {
  readonly words: string;
  readonly undo: (() => void | Promise<void>) | null;
  /** What its button says. */
  readonly label: string;
  /** Whose it is: it goes with them. */
  readonly owner: object | null;
}

interface NoticeOptions {
  /** Missing: `Undo`. */
  readonly label?: string;
  readonly owner?: object;
}

/** How long an undo stays on the screen, in ms. Long: reading and reaching takes people different times. */
const STAYS = 12_000;

/** One quiet line at the foot: what has just happened, and the way back. */
class Notices {
  current = $state<Notice | null>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;

  say(words: string, undo: Notice['undo'] = null, options: NoticeOptions = {}): void {
    clearTimeout(this.#timer);
    this.current = { words, undo, label: options.label ?? 'Undo', owner: options.owner ?? null };
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

  /** Takes away the line of a page that is left: its way back would lead to what is no longer on the screen. */
  leave(owner: object): void {
    if (this.current?.owner === owner) this.dismiss();
  }

  dismiss(): void {
    clearTimeout(this.#timer);
    this.current = null;
  }
}

export const notices = new Notices();
