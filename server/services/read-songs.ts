import type { Result, SongFile } from '#music';
import { ReadingError, type Reader, type ReadRequest } from '../reading/reader.ts';
import { Refusal } from './refusal.ts';

export type { Reader };

/** Reads a file, or says in words why not now. */
export async function readSongs(reader: Reader, request: ReadRequest): Promise<Result<SongFile>> {
  try {
    return await reader.read(request);
  } catch (error) {
    if (!(error instanceof ReadingError)) throw error;
    throw new Refusal(
      'reader-busy',
      'Many files are being read. Nothing was kept and nothing is lost; bring this one again.',
    );
  }
}
