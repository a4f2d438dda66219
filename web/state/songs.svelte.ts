import type { SongListItem } from '#server/contract/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { listSongs } from '#web/api/songs.ts';

/** The titles of the library, to choose from. */
export class Songs {
  /** null: not there yet. */
  list = $state.raw<readonly SongListItem[] | null>(null);
  trouble = $state.raw<Trouble | null>(null);

  async load(): Promise<void> {
    const answer = await listSongs();
    if (answer.ok) {
      this.list = answer.value.songs;
      this.trouble = null;
    } else this.trouble = answer.trouble;
  }
}
