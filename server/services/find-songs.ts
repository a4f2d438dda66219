import { Abc } from '#music';
import { SongDetails } from '../contract/library.ts';
import type { Song, SongListItem } from '../contract/songs.ts';
import type { Presence } from '../store/scope.ts';
import type { SongSource, StoredSong } from '../store/songs.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { answeredScore } from './answered-score.ts';
import { Refusal } from './refusal.ts';

export function noSuchSong(): Refusal {
  return new Refusal(
    'no-such-song',
    'There is no such song here. It may have been deleted; deleted songs can be restored from the list.',
  );
}

export async function listSongs(rooms: TeamRooms, which: Presence): Promise<SongListItem[]> {
  const headings = await rooms.songs.list(which);
  return headings.map((each) => ({ ...each, deletedAt: each.deletedAt?.toISOString() ?? null }));
}

/** The stored song; refuses where there is none. */
export async function requireStored(rooms: TeamRooms, id: string): Promise<StoredSong> {
  const song = await rooms.songs.find(id);
  if (!song) throw noSuchSong();
  return song;
}

export async function requireSource(rooms: TeamRooms, id: string): Promise<SongSource> {
  const source = await rooms.songs.findSource(id);
  if (!source) throw noSuchSong();
  return source;
}

/** What can be read of it as text: MIDI and zipped files cannot. */
function textOf({ format, bytes }: SongSource): string | null {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  return format === 'midi' || format === 'written' || isZip ? null : Abc.decode(bytes).text;
}

export async function requireSong(rooms: TeamRooms, id: string): Promise<Song> {
  const song = await requireStored(rooms, id);
  const source = await requireSource(rooms, id);
  return {
    id: song.id,
    version: song.version,
    deletedAt: song.deletedAt?.toISOString() ?? null,
    score: answeredScore(song),
    source: { format: source.format, text: textOf(source) },
    details: SongDetails.parse(song.details),
    privateNote: song.privateNote,
    warnings: [...song.warnings],
    answers: { key: song.answeredKey },
    corrections: [...song.corrections],
  };
}
