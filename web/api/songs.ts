import type { Score } from '#music';
import type { SongSystems } from '#server/contract/sheets.ts';
import type { NewSong, Song, SongChange, SongList } from '#server/contract/songs.ts';
import { askKept } from './ask-kept.ts';
import { ask, queryOf, type Answer } from './http.ts';

export function listSongs(which: 'present' | 'deleted' = 'present'): Promise<Answer<SongList>> {
  return which === 'deleted' ? ask('/songs?deleted=1') : askKept('/songs');
}

export function findSong(id: string): Promise<Answer<Song>> {
  return askKept(`/songs/${id}`);
}

export function createSong(song: NewSong): Promise<Answer<Song>> {
  return ask('/songs', { method: 'POST', body: song });
}

export function changeSong(id: string, version: number, change: SongChange): Promise<Answer<Song>> {
  return ask(`/songs/${id}`, { method: 'PATCH', body: change, version });
}

/** The whole music of a song, as it was edited. */
export function putScore(id: string, version: number, score: Score): Promise<Answer<Song>> {
  return ask(`/songs/${id}/score`, { method: 'PUT', body: { score }, version });
}

export function deleteSong(id: string, version: number): Promise<Answer<void>> {
  return ask(`/songs/${id}`, { method: 'DELETE', version });
}

export function restoreSong(id: string): Promise<Answer<Song>> {
  return ask(`/songs/${id}/restore`, { method: 'POST' });
}

export interface SystemsQuery {
  /** As `Keys.writeKey` has it. */
  readonly key: string;
  /** CSS pixels. */
  readonly width: number;
  readonly text: number;
  /** Number of the verse under the notes. */
  readonly verse: number;
  /** Version of the song, so that a change is never answered from a cache. */
  readonly v: number;
}

export function songSystems(
  id: string,
  query: SystemsQuery,
  signal: AbortSignal,
): Promise<Answer<SongSystems>> {
  return ask(`/songs/${id}/score-systems${queryOf({ ...query })}`, { signal });
}
