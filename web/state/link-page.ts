import { RoleWords } from '#music';
import type { SetPerson } from '#server/contract/set.ts';

const LINK_PAGE = /^\/s\/[\w-]+(\/[\w-]+)?$/;

/** The page of a set link that `from` names, as one comes from there and goes back; null: it names none. */
export function linkPageOf(from: string | null): string | null {
  return from !== null && LINK_PAGE.test(from) ? from : null;
}

/** Where the foot of a page leads for what is said about the program: with the way back for who came by a link. */
export function aboutFrom(page: string | null): string {
  const back = linkPageOf(page?.replace(/\/$/, '') ?? null);
  return back === null ? '/about' : `/about?from=${back}`;
}

/**
 * What someone does, to stand beside their name: `lead voice, keys`. Empty where the name says it already, as that of
 * a child does (`harmony voice 2`, `a bass player`).
 */
export function rolesBeside({ name, roles }: Pick<SetPerson, 'name' | 'roles'>): string {
  return RoleWords.isWork(name, roles) ? '' : roles.join(', ');
}
