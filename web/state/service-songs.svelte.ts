import type { Arrangement } from '#server/contract/arrangements.ts';
import type { Song } from '#server/contract/songs.ts';
import { usualArrangement } from '#web/api/arrangements.ts';
import type { Trouble } from '#web/api/http.ts';
import { findSong } from '#web/api/songs.ts';

/** A song and how the team usually does it. */
export interface ShelvedSong {
  readonly song: Song;
  readonly arrangement: Arrangement;
}

/** The songs of a service, each fetched once. */
export class SongShelf {
  #songs = $state.raw<ReadonlyMap<string, ShelvedSong>>(new Map());
  #troubles = $state.raw<ReadonlyMap<string, Trouble>>(new Map());
  readonly #asked = new Set<string>();

  find(id: string | null): ShelvedSong | null {
    return (id === null ? undefined : this.#songs.get(id)) ?? null;
  }

  /** Why a song did not come; null: it came, or is on its way. */
  troubleOf(id: string): Trouble | null {
    return this.#troubles.get(id) ?? null;
  }

  async fetch(ids: readonly string[]): Promise<void> {
    const wanted = [...new Set(ids)].filter((id) => !this.#asked.has(id));
    wanted.forEach((id) => this.#asked.add(id));
    await Promise.all(wanted.map((id) => this.#fetch(id)));
  }

  /** Asks again for what did not come. */
  async retry(): Promise<void> {
    const missed = [...this.#troubles.keys()];
    missed.forEach((id) => this.#asked.delete(id));
    this.#troubles = new Map();
    await this.fetch(missed);
  }

  async #fetch(id: string): Promise<void> {
    const [song, arrangement] = await Promise.all([findSong(id), usualArrangement(id)]);
    if (song.ok && arrangement.ok) {
      const shelved = { song: song.value, arrangement: arrangement.value };
      this.#songs = new Map(this.#songs).set(id, shelved);
      return;
    }
    const trouble = !song.ok ? song.trouble : !arrangement.ok ? arrangement.trouble : null;
    if (trouble) this.#troubles = new Map(this.#troubles).set(id, trouble);
  }
}
