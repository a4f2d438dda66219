import { PassThrough, type Readable } from 'node:stream';
import type { ImportRow } from '../../contract/library.ts';
import type { ArchiveUnderway } from './archive-imports.ts';

/**
 * What is said while an archive is brought in. Rows are small and no more than its songs, so they wait here for a slow
 * network, and the next import does not wait for it.
 */
export function importRows(underway: ArchiveUnderway, onerror: (error: unknown) => void): Readable {
  const rows = new PassThrough();
  const say = (row: ImportRow): unknown => rows.write(`${JSON.stringify(row)}\n`);
  const told = underway.run({
    onbegin: (of) => say({ import: underway.id, of }),
    online: (line) => say({ line }),
  });
  const ended = told.then(
    () => say({ end: underway.isStopped() ? 'stopped' : 'done' }),
    (error: unknown) => {
      onerror(error);
      say({ end: 'failed' });
    },
  );
  void ended.finally(() => rows.end());
  return rows;
}
