import type { Song } from '../contract/songs.ts';
import type { SongHeading } from '../store/songs.store.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchSong, requireSong } from './find-songs.ts';
import { hide, unhide, type Spoken } from './hide.ts';

const SONG: Spoken<SongHeading> = {
  missing: noSuchSong,
  name: ({ title }) => `The song “${title}”`,
};

/** Hides the song and answers with its new version, which restoring it must name. */
export function deleteSong(store: TeamStore, id: string, version: number): Promise<number> {
  return store.together(({ songs }) => hide(songs, id, version, SONG));
}

export function restoreSong(store: TeamStore, id: string, version: number | null): Promise<Song> {
  return store.together(async (rooms) => {
    await unhide(rooms.songs, id, version, SONG);
    return requireSong(rooms, id);
  });
}
