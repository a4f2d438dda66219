import type { Song } from '../contract/songs.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchSong, requireSong } from './find-songs.ts';
import { staleVersion } from './stale-version.ts';

/** Hides the song and answers with its new version, which restoring it must name. */
export async function deleteSong(store: TeamStore, id: string, version: number): Promise<number> {
  return store.together(async ({ songs }) => {
    const song = await songs.find(id);
    if (!song) throw noSuchSong();
    if (!(await songs.show(id, version, false))) throw staleVersion(`The song “${song.title}”`);
    return song.version + 1;
  });
}

/** A deleted song cannot have been edited, so no version need be named; one that is named must be the right one. */
export async function restoreSong(
  store: TeamStore,
  id: string,
  version: number | null,
): Promise<Song> {
  return store.together(async (rooms) => {
    const song = await rooms.songs.find(id, 'deleted');
    if (!song) throw noSuchSong();
    if (!(await rooms.songs.show(id, version ?? song.version, true))) {
      throw staleVersion(`The song “${song.title}”`);
    }
    return requireSong(rooms, id);
  });
}
