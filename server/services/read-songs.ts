import type { Result, Score, SongFile } from '#music';
import { ReadingError, type Reader, type ReadRequest } from '../reading/reader.ts';
import { Refusal } from './refusal.ts';

export type { Reader };

/** Reads a file, or says in words why not now. */
export function readSongs(reader: Reader, request: ReadRequest): Promise<Result<SongFile>> {
  return orBusy(reader.read(request));
}

/** Reads a score that is kept as JSON, or says in words why not now. */
export function readScore(reader: Reader, json: Uint8Array): Promise<Result<Score>> {
  return orBusy(reader.readScore(json));
}

async function orBusy<T>(reading: Promise<T>): Promise<T> {
  try {
    return await reading;
  } catch (error) {
    if (!(error instanceof ReadingError)) throw error;
    throw new Refusal(
      'reader-busy',
      'Many files are being read. Nothing was kept and nothing is lost; bring this one again.',
    );
  }
}
