import type { ImportLine, ImportRow } from '#server/contract/library.ts';
import { OFFLINE, type Trouble } from '#web/api/http.ts';
import { importLibrary, stopImport } from '#web/api/library.ts';
import { cameFromArchive } from './import-undo.ts';

/** ms between two looks at what has come: a book comes with hundreds of lines a second. */
const LOOKS = 200;

const BROKEN: Trouble = {
  code: 'internal-error',
  message: 'The server could not go on.',
  status: 500,
  problems: [],
};

/** How an archive ended: all of it is told of; somebody stopped it; or something was in the way. */
export type ArchiveEnd = 'done' | 'stopped' | Trouble;

/** Which songs of an archive are brought, and who is told of each with its place in it. */
export interface ArchiveAsked {
  readonly from: number;
  readonly onlines: (lines: readonly ImportLine[], from: number) => void;
  readonly signal: AbortSignal;
}

/** An archive on its way in, song by song. */
export class ArchiveComing {
  /** The file that is under way; null: none. */
  name = $state<string | null>(null);
  /** Bytes of it. */
  size = $state(0);
  /** Songs that were told of, of those there are; null: the archive is still being sent. */
  of = $state<number | null>(null);
  done = $state(0);
  #id: string | null = null;

  /** Sends an archive and hears of its songs. Each is in the book, whole, or it is not. */
  async send(
    path: string,
    file: Blob,
    { from, onlines, signal }: ArchiveAsked,
  ): Promise<ArchiveEnd> {
    [this.name, this.size, this.of, this.done, this.#id] = [path, file.size, null, from, null];
    let end: ArchiveEnd | null = null;
    let come: ImportLine[] = [];
    let looked = 0;
    const look = (): void => {
      cameFromArchive(come.map(({ song }) => song));
      onlines(come, this.done);
      this.done += come.length;
      [come, looked] = [[], Date.now()];
    };
    const hear = (row: ImportRow): void => {
      if ('line' in row) come.push(row.line);
      else if ('of' in row) [this.#id, this.of] = [row.import, from + row.of];
      else end = row.end === 'failed' ? BROKEN : row.end;
      if (Date.now() - looked > LOOKS) look();
    };
    try {
      const answer = await importLibrary(file, { doubles: 'leave', from }, hear, signal);
      if (!answer.ok) return answer.trouble;
      return end ?? OFFLINE;
    } catch (error) {
      if (signal.aborted) return 'stopped';
      throw error;
    } finally {
      look();
      [this.name, this.of, this.#id] = [null, null, null];
    }
  }

  /** Asks the server to stop after the song it is at. @returns whether it will: what was sent so far is told of then */
  async stop(): Promise<boolean> {
    return this.#id !== null && (await stopImport(this.#id)).ok;
  }
}

/** Brings one song of an archive, also where the book has it. @returns what became of it, or why nothing did */
export async function bringOfArchive(file: Blob, index: number): Promise<ImportLine | Trouble> {
  let line: ImportLine | null = null;
  const hear = (row: ImportRow): void => {
    if (!('line' in row)) return;
    line = row.line;
    cameFromArchive([line.song]);
  };
  const answer = await importLibrary(
    file,
    { doubles: 'bring', from: index, most: 1 },
    hear,
    new AbortController().signal,
  );
  return answer.ok ? (line ?? OFFLINE) : answer.trouble;
}
