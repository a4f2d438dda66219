import type { Score } from '#music';
import { createStore, del, entries, get, set, type UseStore } from 'idb-keyval';
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
const drafts = (): UseStore => (store ??= createStore('partbook-edits', 'drafts'));

const watching = new Set<() => void>();
const tell = (): void => watching.forEach((each) => each());

/** Is told when what this tab keeps has changed. Returns how to stop. */
export function watchDrafts(look: () => void): () => void {
  watching.add(look);
  return () => void watching.delete(look);
}

/** Whether anything in it would be lost with it. */
export function isUnsaved({ saved, typed }: EditDraft): boolean {
  return !saved || Object.keys(typed).length > 0;
}

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

  /**
   * Of the places that are free one with a draft that is not saved, else one with a draft, else an empty one.
   * @param song its id, or `new`
   */
  static async open(song: string): Promise<{ slot: DraftSlot; draft: EditDraft | null }> {
    let best: { slot: DraftSlot; draft: EditDraft | null } | null = null;
    const worth = (draft: EditDraft | null): number => (!draft ? 0 : isUnsaved(draft) ? 2 : 1);
    for (let number = 1; number <= SLOTS; number += 1) {
      const key = `${song}/${number}`;
      const held = await hold(`partbook.edit.${key}`);
      if (!held) continue;
      const slot = new DraftSlot(key, held.release);
      const draft = await slot.#read();
      if (best && worth(draft) <= worth(best.draft)) slot.release();
      else {
        best?.slot.release();
        best = { slot, draft };
      }
    }
    return best ?? { slot: new DraftSlot(`${song}/${SLOTS}`, () => undefined), draft: null };
  }

  /** A free place without a draft; where there is none, the last. */
  static async free(song: string): Promise<DraftSlot> {
    for (let number = 1; number <= SLOTS; number += 1) {
      const key = `${song}/${number}`;
      const held = await hold(`partbook.edit.${key}`);
      if (!held) continue;
      const slot = new DraftSlot(key, held.release);
      if (!(await slot.#read())) return slot;
      slot.release();
    }
    return new DraftSlot(`${song}/${SLOTS}`, () => undefined);
  }

  async #read(): Promise<EditDraft | null> {
    try {
      return (await get<EditDraft>(this.#key, drafts())) ?? null;
    } catch {
      this.keeps = false;
      return null;
    }
  }

  async write(draft: EditDraft): Promise<void> {
    try {
      await set(this.#key, draft, drafts());
      tell();
    } catch {
      this.keeps = false;
    }
  }

  async clear(): Promise<void> {
    try {
      await del(this.#key, drafts());
      tell();
    } catch {
      this.keeps = false;
    }
  }

  release(): void {
    this.#release();
  }
}

/** A draft that no tab has open. */
export interface LeftDraft {
  /** Its place on this device. */
  readonly key: string;
  /** Id of the song; null: a new one that the server does not have yet. */
  readonly song: string | null;
  readonly draft: EditDraft;
}

async function all(): Promise<LeftDraft[]> {
  try {
    const kept = await entries<string, EditDraft>(drafts());
    return kept.map(([key, draft]) => {
      const song = key.slice(0, key.lastIndexOf('/'));
      return { key, song: song === 'new' ? null : song, draft };
    });
  } catch {
    return [];
  }
}

/** What was written on this device and is neither saved nor open, the latest first. */
export async function unsavedDrafts(): Promise<LeftDraft[]> {
  const left: LeftDraft[] = [];
  for (const each of await all()) {
    if (!isUnsaved(each.draft)) continue;
    const held = await hold(`partbook.edit.${each.key}`);
    held?.release();
    if (held) left.push(each);
  }
  return left.sort((a, b) => (b.draft.written ?? 0) - (a.draft.written ?? 0));
}

/** Throws a draft away. Returns whether it is gone. */
export function throwAway({ key }: LeftDraft): Promise<boolean> {
  return del(key, drafts()).then(
    () => true,
    () => false,
  );
}

/** Puts back what was thrown away, in a free place of its song. */
export async function putBack({ song, draft }: LeftDraft): Promise<void> {
  const slot = await DraftSlot.free(song ?? 'new');
  await slot.write(draft);
  slot.release();
}

/** Takes from this device whatever the server has too: nothing is lost with it. */
export async function forgetSaved(): Promise<void> {
  const saved = (await all()).filter(({ draft }) => !isUnsaved(draft));
  await Promise.all(saved.map((each) => throwAway(each)));
}
