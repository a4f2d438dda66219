import type {
  DoubleAnswer,
  DoubleQuestion,
  FileQuery,
  ImportReport,
  ImportRow,
  LibraryQueryRead,
  NewSongs,
  ROWS,
  SameMeterAnswer,
  SearchAnswer,
  SearchQuery,
  SongDetailsChange,
  TuneAnswer,
} from '#server/contract/library.ts';
import type { Song } from '#server/contract/songs.ts';
import type { SongYear } from '#server/contract/year.ts';
import { ask, hear, queryOf, type Answer } from './http.ts';

/** Rows are asked for by this type; its name alone is taken from the contract, so that no schema comes along. */
const ROWS_TYPE: typeof ROWS = 'application/x-ndjson';

/** A question as an address writes it: numbers and text. */
export type AskedSearch = Readonly<Partial<Record<keyof SearchQuery, string | number>>>;

export function searchSongs(
  query: AskedSearch,
  signal: AbortSignal,
): Promise<Answer<SearchAnswer>> {
  return ask(`/songs/search${queryOf({ ...query })}`, { signal });
}

/** @param notes pitch names: `['D4', 'G4', 'B4']` */
export function songsByNotes(
  notes: readonly string[],
  signal: AbortSignal,
): Promise<Answer<TuneAnswer>> {
  return ask(`/songs/by-notes${queryOf({ notes: notes.join(',') })}`, { signal });
}

export function songsOfSameMeter(id: string): Promise<Answer<SameMeterAnswer>> {
  return ask(`/songs/${id}/same-meter`);
}

/** Whether a song is like one of the book. */
export function findDouble(song: DoubleQuestion): Promise<Answer<DoubleAnswer>> {
  return ask('/songs/double', { method: 'POST', body: song });
}

export function putDetails(
  id: string,
  version: number,
  change: SongDetailsChange,
): Promise<Answer<Song>> {
  return ask(`/songs/${id}/details`, { method: 'PUT', body: change, version });
}

export function importSongs(songs: NewSongs, signal: AbortSignal): Promise<Answer<ImportReport>> {
  return ask('/imports', { method: 'POST', body: songs, signal });
}

/** Brings an archive in; a row tells of each song as it comes. */
export function importLibrary(
  zip: Blob,
  query: Pick<LibraryQueryRead, 'doubles' | 'from'> & { readonly most?: number },
  onrow: (row: ImportRow) => void,
  signal: AbortSignal,
): Promise<Answer<void>> {
  return hear(
    `/library${queryOf(query)}`,
    { method: 'POST', zip, accept: ROWS_TYPE, signal },
    onrow,
  );
}

/** Stops an archive that is being brought in, after the song it is at; its rows end then. */
export function stopImport(id: string): Promise<Answer<void>> {
  return ask(`/library/import${queryOf({ import: id })}`, { method: 'DELETE' });
}

/** Where the browser fetches a song as a file. */
export function fileAddress(id: string, asked: FileQuery): string {
  return `/api/songs/${id}/file${queryOf({ ...asked })}`;
}

/** Where the browser fetches the whole book. */
export const LIBRARY_ADDRESS = '/api/library';

/**
 * What was sung in the 52 weeks up to a day.
 * @param until `2026-11-29`, counted too
 */
export function findYear(until: string): Promise<Answer<SongYear>> {
  return ask(`/songs/year${queryOf({ until })}`);
}
