import type { Song } from '#server/contract/songs.ts';

const NOTED: readonly Song['source']['format'][] = ['abc', 'musicxml', 'midi'];

/** Whether the tempo that a song says is a file's, which may be no more than what a program played it at. */
export function isTempoOfFile(song: Pick<Song, 'source'> | null | undefined): boolean {
  return song?.source !== undefined && NOTED.includes(song.source.format);
}
