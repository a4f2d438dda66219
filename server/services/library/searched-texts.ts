import type { LibraryEntry } from '#music';
import type { SearchField } from '../../contract/library.ts';

/** What of a song is looked through, by field. */
export function textsOf(entry: LibraryEntry): Readonly<Record<SearchField, readonly string[]>> {
  return {
    title: [entry.title, ...entry.subtitles],
    'first line': entry.firstLine === null ? [] : [entry.firstLine],
    tune: entry.tune === null ? [] : [entry.tune],
    people: entry.people,
    theme: entry.themes,
    scripture: [...entry.scripture, ...entry.books],
    words: entry.lines,
  };
}

/** The fields a word is looked for in, the best place first. */
export const FIELDS: readonly SearchField[] = [
  'title',
  'first line',
  'tune',
  'people',
  'theme',
  'scripture',
  'words',
];
