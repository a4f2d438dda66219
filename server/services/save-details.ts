import { SearchWords } from '#music';
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

/** What the team knows of a song beside its music, whole; a theme that is said twice stands once, as it was written first. */
export async function saveDetails(
  store: TeamStore,
  id: string,
  version: number,
  { details: sent, privateNote }: DetailsChange,
): Promise<Song> {
  requireDetails(sent);
  const details = { ...sent, themes: SearchWords.eachOnce(sent.themes) };
  return store.together(async (rooms) => {
    const song = await requireStored(rooms, id);
    if (!(await rooms.songs.update(id, version, { details, privateNote }))) {
      throw staleVersion(`The song “${song.title}”`);
    }
    return requireSong(rooms, id);
  });
}
