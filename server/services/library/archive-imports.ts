import { randomUUID } from 'node:crypto';
import type { Readable } from 'node:stream';
import type { ImportLine, LibraryQueryRead } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import type { Reader } from '../read-songs.ts';
import type { Book } from './book.ts';
import { importArchive, openArchive } from './import-archive.ts';
import { takeUpload } from './upload.ts';

/** Who hears of an archive that is brought in: how many songs there are to come, and what became of each. */
export interface Hearing {
  readonly onbegin?: (of: number) => void;
  readonly online: (line: ImportLine) => void;
}

/** An archive that lies here, whole, and is brought in once. */
export interface ArchiveUnderway {
  readonly id: string;
  readonly isStopped: () => boolean;
  /** Brings its songs; then the archive is gone. */
  readonly run: (hearing: Hearing) => Promise<void>;
  /** No song comes after the one it is at. */
  readonly stop: () => void;
}

/** The archives that are being brought in; each can be stopped by its name. */
export class ArchiveImports {
  readonly #reader: Reader;
  readonly #book: Book;
  readonly #underway = new Map<string, ArchiveUnderway>();

  constructor(reader: Reader, book: Book) {
    [this.#reader, this.#book] = [reader, book];
  }

  /** Takes an archive that is being sent. Refuses what is none; nothing is kept then. */
  async take(
    store: TeamStore,
    stream: Readable,
    limit: number,
    { doubles, from, most }: LibraryQueryRead,
  ): Promise<ArchiveUnderway> {
    const upload = await takeUpload(stream, limit);
    const archive = await openArchive(upload).catch(async (error: unknown) => {
      await upload.close();
      throw error;
    });
    const id = randomUUID();
    let isStopped = false;
    const one: ArchiveUnderway = {
      id,
      isStopped: () => isStopped,
      stop: () => (isStopped = true),
      run: ({ onbegin, online }) =>
        importArchive(store, this.#reader, this.#book, archive, {
          bring: doubles,
          from,
          most,
          onbegin: onbegin ?? (() => undefined),
          online,
          isStopped: () => isStopped,
        }).finally(() => {
          this.#underway.delete(id);
          return upload.close();
        }),
    };
    this.#underway.set(id, one);
    return one;
  }

  /** Stops the one of that name; what is over stays as it is. */
  stop(id: string): void {
    this.#underway.get(id)?.stop();
  }
}
