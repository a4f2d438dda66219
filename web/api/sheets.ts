import type { NamedNotes } from '#music';
import type { SheetAnswer } from '#server/contract/sheets.ts';
import { ask, queryOf, type Answer } from './http.ts';

export interface SheetWish {
  readonly role: string;
  readonly level: string | null;
  readonly key: string | null;
  readonly player: string | null;
  readonly density: string | null;
  /** The verse under the notes; null: the first that is sung. */
  readonly verse: number | 'all' | null;
  /** What notes are called. */
  readonly names: NamedNotes;
  /** CSS px of the view. */
  readonly width: number;
  /** Size of the words against the usual. */
  readonly text: number;
}

export function findSheet(
  songId: string,
  wish: SheetWish,
  signal: AbortSignal,
): Promise<Answer<SheetAnswer>> {
  return ask(`/songs/${songId}/sheet${queryOf({ ...wish })}`, { signal });
}
