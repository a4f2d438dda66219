import type { NamedNotes } from '#music';
import type { PartFileQuery } from '#server/contract/part-files.ts';
import { queryOf } from './http.ts';
import type { PagesOf } from './pages.ts';

/** How a part is written and, as MIDI, played. */
export interface PartFileAsked extends Partial<Pick<PartFileQuery, 'as' | 'passes'>> {
  readonly countIn?: '1';
  readonly click?: '1';
}

/** Which part of a song: as its sheet is asked for. */
export interface PartWish {
  readonly role: string;
  readonly level: string | null;
  readonly key: string | null;
  readonly player: string | null;
  readonly density: string | null;
  readonly names: NamedNotes;
}

/** Where the browser fetches one part of a song as a file. */
export function partAddress(songId: string, wish: PartWish, asked: PartFileAsked): string {
  return `/api/songs/${songId}/part${queryOf({ ...wish, ...asked })}`;
}

/** Where the browser fetches all parts of a person for a service, in one zip. */
export function filesAddress(
  of: PagesOf,
  member: string,
  asked: PartFileAsked & { readonly played?: string | null },
): string {
  const path = 'link' in of ? `/set/${of.link}` : `/services/${of.service}`;
  return `/api${path}/pages/${member}/files${queryOf({ ...asked })}`;
}
