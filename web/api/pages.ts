import type { PersonPages } from '#server/contract/pages.ts';
import { ask, queryOf, type Answer } from './http.ts';

/** Where a person's pages are asked for: on the leader's side, or by a set link. */
export type PagesOf = { readonly service: string } | { readonly link: string };

export interface PagesWish {
  /** CSS px of the view. */
  readonly width: number;
  /** Size of the words against the usual. */
  readonly text: number;
  /** The verse under the notes; null: the first that is sung. */
  readonly verse: number | 'all' | null;
  /** `item.C,item.G`: items read in another key than the plan has it; null: none. */
  readonly played: string | null;
}

/** Everything one person opens for a service, in one request. */
export function findPages(
  of: PagesOf,
  member: string,
  wish: PagesWish,
  signal: AbortSignal,
): Promise<Answer<PersonPages>> {
  const path = 'link' in of ? `/set/${of.link}` : `/services/${of.service}`;
  return ask(`${path}/pages/${member}${queryOf({ ...wish })}`, { signal });
}
