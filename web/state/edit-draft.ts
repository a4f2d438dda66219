import type { Score } from '#music';
import { createStore, del, entries, get, promisifyRequest, type UseStore } from 'idb-keyval';
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

/**
 * Hands a draft over whole and at once: it is told to be kept together with what is kept (Indexed Database API 3.0,
 * commit()), and does not wait for an answer that a tab which is killed never gets.
 */
function put(key: string, draft: EditDraft): Promise<void> {
  return drafts()('readwrite', (store) => {
    store.put(draft, key);
    store.transaction.commit();
    return promisifyRequest(store.transaction);
  });
}

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

const nameOf = (key: string): string => `partbook.edit.${key}`;
const locksHere = (): LockManager | null =>
  (navigator as { locks?: LockManager | null }).locks ?? null;

/** Gives a name back; done when others can have it. */
type Release = () => Promise<void>;

/** Holds a name until the tab is closed or killed (Web Locks); where the browser has none, everybody gets it. */
function hold(key: string): Promise<Release | null> {
  const locks = locksHere();
  const nothing: Release = () => Promise.resolve();
  if (!locks) return Promise.resolve(nothing);
  return new Promise((done) => {
    const over: Promise<void> = locks
      .request(nameOf(key), { ifAvailable: true }, (lock) => {
        if (!lock) {
          done(null);
          return undefined;
        }
        return new Promise<void>((free) =>
          done(() => {
            free();
            return over;
          }),
        );
      })
      .catch(() => done(nothing));
  });
}

/** The names that tabs hold now. */
async function heldNames(): Promise<ReadonlySet<string>> {
  const state = await locksHere()
    ?.query()
    .catch(() => null);
  return new Set(state?.held?.flatMap(({ name }) => name ?? []));
}

/**
 * Where one tab keeps its draft of a song, in the browser's database. Two tabs have two places, so that neither writes
 * over the other; the place of a tab that was killed is free again, and whoever opens the song next takes it up.
 */
export class DraftSlot {
  /** Whether this device keeps anything; private windows may not. */
  keeps = true;
  readonly #key: string;
  readonly #release: Release;

  private constructor(key: string, release: Release) {
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
      const release = await hold(key);
      if (!release) continue;
      const slot = new DraftSlot(key, release);
      const draft = await slot.#read();
      if (best && worth(draft) <= worth(best.draft)) await slot.release();
      else {
        await best?.slot.release();
        best = { slot, draft };
      }
    }
    return (
      best ?? { slot: new DraftSlot(`${song}/${SLOTS}`, () => Promise.resolve()), draft: null }
    );
  }

  /** A free place without a draft; where there is none, the last. */
  static async free(song: string): Promise<DraftSlot> {
    for (let number = 1; number <= SLOTS; number += 1) {
      const key = `${song}/${number}`;
      const release = await hold(key);
      if (!release) continue;
      const slot = new DraftSlot(key, release);
      if (!(await slot.#read())) return slot;
      await slot.release();
    }
    return new DraftSlot(`${song}/${SLOTS}`, () => Promise.resolve());
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
      await put(this.#key, draft);
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

  /** Done when another tab can have it. */
  release(): Promise<void> {
    return this.#release();
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
  const [drafts, held] = await Promise.all([all(), heldNames()]);
  return drafts
    .filter(({ key, draft }) => isUnsaved(draft) && !held.has(nameOf(key)))
    .sort((a, b) => (b.draft.written ?? 0) - (a.draft.written ?? 0));
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
  await slot.release();
}

/** Takes from this device whatever the server has too: nothing is lost with it. */
export async function forgetSaved(): Promise<void> {
  const saved = (await all()).filter(({ draft }) => !isUnsaved(draft));
  await Promise.all(saved.map((each) => throwAway(each)));
}
