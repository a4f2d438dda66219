import type { SongListItem } from '#server/contract/songs.ts';
import type { Trouble } from '#web/api/http.ts';
import { deleteSong, listSongs, restoreSong } from '#web/api/songs.ts';
import { notices } from './notice.svelte.ts';

/** The library, in the order of an index. */
export class Songs {
  /** null: not there yet. */
  list = $state.raw<readonly SongListItem[] | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  wanted = $state('');

  readonly shown = $derived.by(() => {
    const wanted = this.wanted.trim().toLocaleLowerCase();
    const found = (this.list ?? []).filter((song) =>
      `${song.title} ${song.tune ?? ''}`.toLocaleLowerCase().includes(wanted),
    );
    return found.toSorted((a, b) => a.title.localeCompare(b.title));
  });

  async load(): Promise<void> {
    const answer = await listSongs();
    if (answer.ok) {
      this.list = answer.value.songs;
      this.trouble = null;
    } else this.trouble = answer.trouble;
  }

  /** Takes a song out of the book at once; the foot of the page offers the way back. */
  async takeOut(song: SongListItem): Promise<void> {
    const before = this.list;
    this.list = (before ?? []).filter((each) => each.id !== song.id);
    const answer = await deleteSong(song.id, song.version);
    if (!answer.ok) {
      this.list = before;
      notices.say(answer.trouble.message);
      return;
    }
    notices.say(`${song.title} is out of the book.`, async () => {
      const back = await restoreSong(song.id);
      if (!back.ok) notices.say(back.trouble.message);
      await this.load();
    });
  }
}
