import type { Score } from '#music';
import { createStore, del, get, set, type UseStore } from 'idb-keyval';
import type { KeptHistory } from './edit-history.ts';
import type { Hand } from './edit-place.ts';

/** A song as it stands on this device, with the way it came there. */
export interface EditDraft {
  readonly score: Score;
  /** The version on the server that it builds on; 0: it is not there yet. */
  readonly version: number;
  /** Whether the server has it. */
  readonly saved: boolean;
  readonly history: KeptHistory;
  readonly hand: Hand;
  /** What is typed and could not be laid into the song yet, by field. */
  readonly typed: Readonly<Record<string, string>>;
  /** The last state that the server has and what is written here goes on from; missing: it has this one, or none is known. */
  readonly base?: Score;
  /** As which the server knows a new song that has no id yet. */
  readonly name?: string;
  /** When it was written last, ms since 1970; missing: an earlier version of the program kept it. */
  readonly written?: number;
}

/** 128 bits of chance (RFC 9562, 5.4 has 122): no two drafts of a team meet. Also where the page is not secure. */
export function newDraftName(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Tabs that edit one song at a time on one device; more share the last place. */
const SLOTS = 8;

let store: UseStore | null = null;

/** Holds a name until the tab is closed or killed (Web Locks); where the browser has none, everybody gets it. */
function hold(name: string): Promise<{ release: () => void } | null> {
  const { locks } = navigator as { locks?: LockManager | null };
  if (!locks) return Promise.resolve({ release: () => undefined });
  return new Promise((done) => {
    void locks
      .request(name, { ifAvailable: true }, (lock) => {
        if (!lock) {
          done(null);
          return undefined;
        }
        return new Promise<void>((free) => done({ release: free }));
      })
      .catch(() => done({ release: () => undefined }));
  });
}

/**
 * Where one tab keeps its draft of a song, in the browser's database. Two tabs have two places, so that neither writes
 * over the other; the place of a tab that was killed is free again, and whoever opens the song next takes it up.
 */
export class DraftSlot {
  /** Whether this device keeps anything; private windows may not. */
  keeps = true;
  readonly #key: string;
  readonly #release: () => void;

  private constructor(key: string, release: () => void) {
    this.#key = key;
    this.#release = release;
  }

  /** @param song its id, or `new` */
  static async open(song: string): Promise<{ slot: DraftSlot; draft: EditDraft | null }> {
    let empty: DraftSlot | null = null;
    for (let number = 1; number <= SLOTS; number += 1) {
      const key = `${song}/${number}`;
      const held = await hold(`partbook.edit.${key}`);
      if (!held) continue;
      const slot = new DraftSlot(key, held.release);
      const draft = await slot.#read();
      if (draft) {
        empty?.release();
        return { slot, draft };
      }
      if (empty) slot.release();
      else empty = slot;
    }
    return { slot: empty ?? new DraftSlot(`${song}/${SLOTS}`, () => undefined), draft: null };
  }

  async #read(): Promise<EditDraft | null> {
    try {
      store ??= createStore('partbook-edits', 'drafts');
      return (await get<EditDraft>(this.#key, store)) ?? null;
    } catch {
      this.keeps = false;
      return null;
    }
  }

  async write(draft: EditDraft): Promise<void> {
    try {
      store ??= createStore('partbook-edits', 'drafts');
      await set(this.#key, draft, store);
    } catch {
      this.keeps = false;
    }
  }

  async clear(): Promise<void> {
    try {
      if (store) await del(this.#key, store);
    } catch {
      this.keeps = false;
    }
  }

  release(): void {
    this.#release();
  }
}
