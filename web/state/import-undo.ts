import type { Trouble } from '#web/api/http.ts';
import { deleteSong, findSong, restoreSong } from '#web/api/songs.ts';

/** Of songs that came here, from an archive or back; one that was just brought in from a file is of version 1. */
const versions = new Map<string, number>();

/** What was said of a song of an archive is its second version. */
const OF_ARCHIVE = 2;

/** These songs have come from an archive just now. */
export function cameFromArchive(ids: readonly (string | null)[]): void {
  for (const id of ids) if (id !== null) versions.set(id, OF_ARCHIVE);
}

/** Takes a song out, whatever version it has by now. @returns why not; null: it is out */
async function takeOut(id: string): Promise<Trouble | null> {
  const fresh = await deleteSong(id, versions.get(id) ?? 1);
  if (fresh.ok) return null;
  if (fresh.trouble.status !== 412) return fresh.trouble;
  const song = await findSong(id);
  if (!song.ok) return song.trouble;
  const again = await deleteSong(id, song.value.version);
  return again.ok ? null : again.trouble;
}

/** Takes songs out of the book, one after the other; ends at the first that cannot be. */
export async function outOfBook(
  ids: readonly string[],
): Promise<{ readonly gone: ReadonlySet<string>; readonly trouble: Trouble | null }> {
  const gone = new Set<string>();
  for (const id of ids) {
    const trouble = await takeOut(id);
    if (trouble && trouble.status !== 404) return { gone, trouble };
    gone.add(id);
  }
  return { gone, trouble: null };
}

/** Brings songs back. @returns why not; null: all are back */
export async function backInBook(ids: readonly string[]): Promise<Trouble | null> {
  for (const id of ids) {
    const answer = await restoreSong(id);
    if (!answer.ok) return answer.trouble;
    versions.set(id, answer.value.version);
  }
  return null;
}
