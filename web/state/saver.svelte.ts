import type { Answer, Trouble } from '#web/api/http.ts';

interface Versioned {
  readonly version: number;
}

export interface SaverOptions<Value extends Versioned, Change extends object> {
  readonly send: (version: number, change: Change) => Promise<Answer<Value>>;
  /** What the server has now: after a change was saved, and after one was refused. */
  readonly onsaved: (value: Value) => void;
  /** Someone else changed it in between, and it could not be laid together: fetch it anew. */
  readonly onstale: () => void | Promise<void>;
  /**
   * How to fetch it anew where someone else changed it in between. Fields that they left alone are then sent again;
   * missing: nothing is.
   */
  readonly fresh?: () => Promise<Answer<Value>>;
  /** What is shown and not known to be saved, and what it builds on; null: nothing any more. */
  readonly onheld?: (held: Change | null, stored: Value) => void;
  /** What was laid together after that. @param lost what both changed: theirs stands */
  readonly onmerged?: (now: Value, lost: Change | null) => void;
}

/** What the others left alone, and what they changed too and otherwise; null: nothing. */
function parted<Value extends Versioned, Change extends object>(
  mine: Change,
  before: Value,
  now: Value,
): { again: Change | null; lost: Change | null } {
  const fieldOf = (value: Value, field: string): string =>
    JSON.stringify((value as Record<string, unknown>)[field] ?? null);
  const fields = Object.entries(mine);
  const touched = (field: string): boolean => fieldOf(before, field) !== fieldOf(now, field);
  const isSame = ([field, value]: [string, unknown]): boolean =>
    touched(field) && fieldOf(now, field) === JSON.stringify(value ?? null);
  const those = (which: boolean): Change | null => {
    const some = fields.filter((each) => touched(each[0]) === which && !isSame(each));
    return some.length === 0 ? null : (Object.fromEntries(some) as Change);
  };
  return { again: those(false), lost: those(true) };
}

/**
 * Failures that pass: no network, a session that has ended, a server that is busy, slow or broken for now (RFC 9110,
 * 15.5.2, 15.5.9 and 15.6; RFC 6585, 4).
 */
function passes({ status }: Trouble): boolean {
  return status === 0 || status === 401 || status === 408 || status === 429 || status >= 500;
}

function keptWords({ message, status }: Trouble): string {
  if (status === 0) return message;
  if (status === 401) return 'Not saved yet: the passphrase is asked for. The change is kept here.';
  return `The server could not save this just now (status ${status}). The change is kept here; try again in a moment.`;
}

const keeping = new Set<{ readonly trouble: Trouble | null; retry(): Promise<void> }>();

/** Sends again whatever waits anywhere in the app; false: nothing waited. */
export function retryKept(): boolean {
  const kept = [...keeping];
  for (const saver of kept) void saver.retry();
  return kept.length > 0;
}

/** The same where nobody answered: what asks for the passphrase first waits for that. */
export function retryUnanswered(): void {
  for (const saver of [...keeping]) if (saver.trouble?.status !== 401) void saver.retry();
}

/**
 * Saves by itself: one change at a time, in order, each on the version of the one before; what comes meanwhile is
 * laid together. What could not be sent is kept and can be sent again; what the server refuses is put back as the
 * server has it. It ends as saved only with nothing left to send.
 */
export class Saver<Value extends Versioned, Change extends object> {
  state = $state<'saved' | 'saving' | 'kept'>('saved');
  trouble = $state.raw<Trouble | null>(null);
  readonly #options: SaverOptions<Value, Change>;
  /** As the server has it, as far as is known here. */
  #stored: Value;
  #sending: Change | null = null;
  #pending: Change | null = null;
  #running: Promise<void> | null = null;

  constructor(stored: Value, options: SaverOptions<Value, Change>) {
    this.#stored = stored;
    this.#options = options;
  }

  get version(): number {
    return this.#stored.version;
  }

  /** What the server has, as far as is known here. */
  get stored(): Value {
    return this.#stored;
  }

  /** What is shown but not known to be saved; null: nothing. */
  get held(): Change | null {
    if (!this.#sending && !this.#pending) return null;
    return { ...this.#sending, ...this.#pending } as Change;
  }

  /** Done when there is nothing to send any more, or no way to. */
  change(change: Change): Promise<void> {
    this.#pending = { ...this.#pending, ...change };
    this.#tellHeld();
    return this.retry();
  }

  /** Lets go of what could not be sent: somebody else sends it. */
  giveUp(): void {
    keeping.delete(this);
    this.#pending = null;
    this.state = 'saved';
    this.trouble = null;
  }

  /** Sends what waits. */
  retry(): Promise<void> {
    if (!this.#running && this.#pending) this.#running = this.#run();
    return this.#running ?? Promise.resolve();
  }

  async #run(): Promise<void> {
    this.trouble = null;
    keeping.delete(this);
    let stale = false;
    while (this.#pending && !stale) {
      const change: Change = this.#pending;
      this.#pending = null;
      this.#sending = change;
      this.state = 'saving';
      const answer = await this.#options.send(this.version, change);
      this.#sending = null;
      if (answer.ok) this.#stored = answer.value;
      else if (passes(answer.trouble)) {
        this.#keep(change, answer.trouble);
        return;
      } else if (answer.trouble.status === 412 && this.#options.fresh) {
        const trouble = await this.#layTogether(change, this.#options.fresh);
        if (trouble && passes(trouble)) {
          this.#keep(change, trouble);
          return;
        }
        stale = trouble !== null && this.#refused(answer.trouble);
      } else stale = this.#refused(answer.trouble);
      if (!this.#pending) this.#options.onsaved(this.#stored);
    }
    this.state = 'saved';
    this.#running = null;
    this.#tellHeld();
    if (stale) await this.#options.onstale();
  }

  #keep(change: Change, trouble: Trouble): void {
    this.#pending = { ...change, ...this.#pending };
    this.trouble = { ...trouble, message: keptWords(trouble) };
    this.state = 'kept';
    keeping.add(this);
    this.#running = null;
    this.#tellHeld();
  }

  #tellHeld(): void {
    this.#options.onheld?.(this.held, this.#stored);
  }

  /** @returns why it could not be fetched anew; null: it was */
  async #layTogether(change: Change, fetch: () => Promise<Answer<Value>>): Promise<Trouble | null> {
    const answer = await fetch();
    if (!answer.ok) return answer.trouble;
    const { again, lost } = parted({ ...change, ...this.#pending }, this.#stored, answer.value);
    this.#stored = answer.value;
    this.#pending = again;
    this.#options.onmerged?.({ ...answer.value, ...again }, lost);
    return null;
  }

  /** Whether the change built on a state that is gone: what was made meanwhile goes with it, nothing is written over. */
  #refused(trouble: Trouble): boolean {
    if (trouble.status === 412) {
      this.#pending = null;
      this.trouble = trouble;
      return true;
    }
    this.trouble = { ...trouble, message: `Not saved, and put back as it was. ${trouble.message}` };
    return false;
  }
}
