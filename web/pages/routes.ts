import type { Component } from 'svelte';

export interface PageProps {
  readonly params: Readonly<Record<string, string>>;
}

export type LoadPage = () => Promise<Component<PageProps>>;

/** A page may leave its parameters unread, which its own type cannot say. */
function page(load: () => Promise<{ default: unknown }>): LoadPage {
  return async () => (await load()).default as Component<PageProps>;
}

/** Each page is fetched when it is first opened, so that a sheet carries nothing of the workshop. */
export const PAGES: Readonly<Record<string, LoadPage>> = {
  '/': page(() => import('./services/Services.svelte')),
  '/services/:id': page(() => import('./service/Service.svelte')),
  '/songs': page(() => import('./songs/Songs.svelte')),
  '/songs/new': page(() => import('./import/Import.svelte')),
  '/songs/write': page(() => import('./edit/Edit.svelte')),
  '/songs/by-tune': page(() => import('./tune/ByTune.svelte')),
  '/songs/year': page(() => import('./year/Year.svelte')),
  '/songs/:id': page(() => import('./song/Song.svelte')),
  '/songs/:id/edit': page(() => import('./edit/Edit.svelte')),
  '/songs/:id/sheet': page(() => import('./sheet/Sheet.svelte')),
  '/people': page(() => import('./people/People.svelte')),
  '/team': page(() => import('./team/Team.svelte')),
  '/services/:id/people/:member': page(() => import('./stand/Stand.svelte')),
  '/s/:link': page(() => import('./set/Set.svelte')),
  '/s/:link/:member': page(() => import('./stand/Stand.svelte')),
  '/about': page(() => import('./about/About.svelte')),
};

export const MISSING = page(() => import('./missing/Missing.svelte'));

/** Pages that have the whole screen to themselves. */
export const ON_THE_STAND: readonly string[] = [
  '/songs/write',
  '/songs/:id/edit',
  '/songs/:id/sheet',
  '/services/:id/people/:member',
  '/s/:link/:member',
];

/** Pages of those who hold a set link: nothing of the leader's side stands round them. */
export const BY_LINK: readonly string[] = ['/s/:link', '/s/:link/:member'];
