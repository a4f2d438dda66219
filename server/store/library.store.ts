import { setImmediate } from 'node:timers/promises';
import type { Key } from '#music';
import { fromJson, type Scope } from './scope.ts';

/** Which version of a song and of its usual arrangement there is: what is drawn from them is true while these are the same. */
export interface SongVersions {
  readonly id: string;
  readonly version: number;
  /** The usual key. */
  readonly key: Key;
  readonly arrangement: number;
}

/** A song stood in the order of a service that was not deleted. */
export interface SungDay {
  readonly song: string;
  /** On the calendar of `zone`: `2026-11-29`. */
  readonly date: string;
  readonly zone: string;
}

/** So many rows are read in some ten milliseconds. */
const PAGE = 500;

export type LibraryStore = ReturnType<typeof libraryStore>;

/** What the whole book is asked for; few statements and small rows however many songs. */
export function libraryStore({ db, teamId }: Scope) {
  return {
    /** Of every song that is there. Two statements for each `PAGE` of songs, and others have their turn between them. */
    async versions(): Promise<SongVersions[]> {
      const versions: SongVersions[] = [];
      for (let after = ''; ;) {
        const songs = await db.song.findMany({
          where: { teamId, deletedAt: null, id: { gt: after } },
          orderBy: { id: 'asc' },
          take: PAGE,
          select: { id: true, version: true },
        });
        const last = songs.at(-1)?.id;
        if (last === undefined) return versions;
        const arrangements = await db.arrangement.findMany({
          where: { teamId, songId: { gt: after, lte: last } },
          select: { songId: true, version: true, key: true },
        });
        const bySong = new Map(arrangements.map((each) => [each.songId, each]));
        for (const song of songs) {
          const found = bySong.get(song.id);
          if (!found) continue;
          versions.push({ ...song, key: fromJson<Key>(found.key), arrangement: found.version });
        }
        if (songs.length < PAGE) return versions;
        after = last;
        await setImmediate();
      }
    },

    /** Each song once for each service, in no order. One statement. */
    async sung(): Promise<SungDay[]> {
      const rows = await db.serviceItem.findMany({
        where: { teamId, kind: 'song', songId: { not: null }, service: { deletedAt: null } },
        distinct: ['serviceId', 'songId'],
        select: { songId: true, service: { select: { date: true, zone: true } } },
      });
      return rows.flatMap(({ songId, service }) =>
        songId === null ? [] : [{ song: songId, ...service }],
      );
    },
  };
}
