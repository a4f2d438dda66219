import type { SongListItem } from '#server/contract/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { listSongs, restoreSong } from '#web/api/songs.ts';

/** The songs that were taken out of the book and can be brought back. */
export class TakenOut {
  /** null: not there yet. */
  list = $state.raw<readonly SongListItem[] | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  busy = $state<string | null>(null);

  async load(): Promise<void> {
    const answer = await listSongs('deleted');
    this.trouble = answer.ok ? null : answer.trouble;
    if (answer.ok) this.list = answer.value.songs;
  }

  /** @returns whether it is back */
  async bringBack(id: string): Promise<boolean> {
    if (this.busy) return false;
    this.busy = id;
    const answer = await restoreSong(id);
    this.busy = null;
    this.trouble = answer.ok ? null : answer.trouble;
    if (answer.ok) this.list = (this.list ?? []).filter((song) => song.id !== id);
    return answer.ok;
  }
}
