import type { SongDetails } from '../contract/library.ts';
import type { Song } from '../contract/songs.ts';
import type { TeamStore } from '../store/store.ts';
import { requireSong, requireStored } from './find-songs.ts';
import { requireDetails } from './require-details.ts';
import { staleVersion } from './stale-version.ts';

export interface DetailsChange {
  readonly details: SongDetails;
  readonly privateNote: string;
}

/** What the team knows of a song beside its music, whole. */
export async function saveDetails(
  store: TeamStore,
  id: string,
  version: number,
  { details, privateNote }: DetailsChange,
): Promise<Song> {
  requireDetails(details);
  return store.together(async (rooms) => {
    const song = await requireStored(rooms, id);
    if (!(await rooms.songs.update(id, version, { details, privateNote }))) {
      throw staleVersion(`The song “${song.title}”`);
    }
    return requireSong(rooms, id);
  });
}
