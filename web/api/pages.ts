import type { NamedNotes } from '#music';
import type { PersonPages } from '#server/contract/pages.ts';
import type { PersonParts } from '#server/contract/person-parts.ts';
import { askKept, type KeptAsk } from './ask-kept.ts';
import { queryOf, type Answer } from './http.ts';
import { findKept } from './kept.ts';

/** Where a person's pages are asked for: on the leader's side, or by a set link. */
export type PagesOf = { readonly service: string } | { readonly link: string };

export interface PagesWish {
  /** CSS px of the view. */
  readonly width: number;
  /** Size of the words against the usual. */
  readonly text: number;
  /** The verse under the notes; null: the first that is sung. */
  readonly verse: number | 'all' | null;
  /** What notes are called. */
  readonly names: NamedNotes;
  /** `item.C,item.G`: items read in another key than the plan has it; null: none. */
  readonly played: string | null;
}

/** What of a wish decides the notes and not how they are laid out. */
export type PartsWish = Omit<PagesWish, 'width' | 'text' | 'verse'>;

const pathOf = (of: PagesOf, member: string): string =>
  `${'link' in of ? `/set/${of.link}` : `/services/${of.service}`}/pages/${member}`;

/** Everything one person opens for a service, in one request. */
export function findPages(
  of: PagesOf,
  member: string,
  wish: PagesWish,
  options: Pick<KeptAsk, 'signal' | 'onlate'>,
): Promise<Answer<PersonPages>> {
  return askKept(`${pathOf(of, member)}${queryOf({ ...wish })}`, { ...options, soon: true });
}

/** The parts from which the same pages are engraved here. Without a network those that came last, in whatever key. */
export function findParts(
  of: PagesOf,
  member: string,
  wish: PartsWish,
  options: Pick<KeptAsk, 'signal' | 'onlate'>,
): Promise<Answer<PersonParts>> {
  const path = `${pathOf(of, member)}/parts${queryOf({ ...wish })}`;
  return askKept(path, { ...options, match: 'same path', soon: true });
}

/** The parts as this device was given them last, for the very same wish; null: it keeps none. */
export async function keptParts(
  of: PagesOf,
  member: string,
  wish: PartsWish,
): Promise<PersonParts | null> {
  const path = `${pathOf(of, member)}/parts${queryOf({ ...wish })}`;
  return (await findKept<PersonParts>(path, 'exact'))?.value ?? null;
}
