import { findSong } from '#web/api/songs.ts';
import { sayInstant } from './dates.ts';
import { alike } from './edit-differences.ts';
import { putBack, throwAway, unsavedDrafts, watchDrafts, type LeftDraft } from './edit-draft.ts';
import { named } from './edit-words.ts';
import { notices } from './notice.svelte.ts';

/** What was written within this time may be on its way to the server, ms (ours). */
const ON_ITS_WAY = 3000;

/** The title of a draft, as the song would have it in the book. */
export function titleOf({ draft }: LeftDraft): string {
  return named(draft.score).facts.title;
}

/** `An unsaved draft of “Lamp” from Saturday, 28 November 2026, 17:30 is kept on this device.` */
export function sayDraft(left: LeftDraft): string {
  const { song, draft } = left;
  const of = song === null ? `a new song, “${titleOf(left)}”,` : `“${titleOf(left)}”`;
  const from =
    draft.written === undefined ? '' : ` from ${sayInstant(new Date(draft.written).toISOString())}`;
  return `An unsaved draft of ${of}${from} is kept on this device.`;
}

/** Where a draft is taken up again. */
export function addressOf({ song }: LeftDraft): string {
  return song === null ? '/songs/write' : `/songs/${song}/edit`;
}

/** Whether the server has it after all: the tab was closed before it heard so. */
async function isThere({ song, draft }: LeftDraft): Promise<boolean> {
  if (song === null || Object.keys(draft.typed).length > 0) return false;
  const answer = await findSong(song);
  return answer.ok && alike(answer.value.score, named(draft.score));
}

/** What was written on this device and nobody saved: whoever sits here next is told. */
export class DraftsLeft {
  list = $state.raw<readonly LeftDraft[]>([]);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #left = false;
  /** Counts the looks: an older one that comes later says nothing. */
  #looks = 0;
  readonly #unwatch = watchDrafts(() => void this.load());

  async load(): Promise<void> {
    clearTimeout(this.#timer);
    const look = (this.#looks += 1);
    const found = await unsavedDrafts();
    const since = Date.now() - ON_ITS_WAY;
    const settled = found.filter(({ draft }) => (draft.written ?? 0) <= since);
    const there = await Promise.all(settled.map(isThere));
    if (this.#left || look !== this.#looks) return;
    this.list = settled.filter((_, index) => !there[index]);
    if (settled.length < found.length) this.#timer = setTimeout(() => void this.load(), ON_ITS_WAY);
  }

  async throwAway(left: LeftDraft): Promise<void> {
    if (!(await throwAway(left))) return;
    await this.load();
    notices.say(`The draft of “${titleOf(left)}” is thrown away.`, async () => {
      await putBack(left);
      await this.load();
    });
  }

  leave(): void {
    this.#left = true;
    clearTimeout(this.#timer);
    this.#unwatch();
  }
}
