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

export type LibraryStore = ReturnType<typeof libraryStore>;

/** What the whole book is asked for; few statements and small rows however many songs. */
export function libraryStore({ db, teamId }: Scope) {
  return {
    /** Of every song that is there. One statement. */
    async versions(): Promise<SongVersions[]> {
      const rows = await db.arrangement.findMany({
        where: { teamId, song: { deletedAt: null } },
        select: { version: true, key: true, song: { select: { id: true, version: true } } },
      });
      return rows.map(({ version, key, song }) => ({
        ...song,
        key: fromJson<Key>(key),
        arrangement: version,
      }));
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
