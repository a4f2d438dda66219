import type { SourceFormat } from '../store/songs.store.ts';

/** Formats in which a tempo is often no more than what a program played it at. */
const NOTED: readonly SourceFormat[] = ['abc', 'musicxml', 'midi'];

/** Where the tempo that a song says comes from, until the team confirms or changes it. */
export function tempoFrom(format: SourceFormat): { readonly tempoFrom?: 'file' } {
  return NOTED.includes(format) ? { tempoFrom: 'file' } : {};
}
