import { readdirSync } from 'node:fs';

/** File names of the 24 hymns of the Open Hymnal Project, as published. */
export const HYMN_FILES: readonly string[] = readdirSync(
  new URL('../../seed-data/hymns/', import.meta.url),
)
  .filter((name) => name.endsWith('.abc'))
  .sort();
