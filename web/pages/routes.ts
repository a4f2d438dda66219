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
  '/': page(() => import('./songs/Songs.svelte')),
  '/songs/new': page(() => import('./import/Import.svelte')),
  '/songs/:id': page(() => import('./song/Song.svelte')),
  '/songs/:id/sheet': page(() => import('./sheet/Sheet.svelte')),
  '/people': page(() => import('./people/People.svelte')),
  '/about': page(() => import('./about/About.svelte')),
};

export const MISSING = page(() => import('./missing/Missing.svelte'));

/** Pages that have the whole screen to themselves. */
export const ON_THE_STAND: readonly string[] = ['/songs/:id/sheet'];
