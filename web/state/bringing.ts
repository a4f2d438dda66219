import { isArchive, readFile, sortOut, type FoundFile } from './dropped.ts';
import { importMany } from './import-many.svelte.ts';
import { importing } from './import.svelte.ts';

/** Takes files in: one is shown before it is kept; several, a folder or an archive go in with a report. */
export async function bring(files: readonly FoundFile[]): Promise<void> {
  const [first] = files;
  if (!first) return;
  const { songs } = sortOut(files);
  if (files.length === 1 && songs.length === 1 && !isArchive(first)) {
    importing.take(await readFile(first));
  } else void importMany.take(files);
}
