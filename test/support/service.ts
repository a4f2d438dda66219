import type { PersonPages } from '#server/contract/pages.ts';
import type { ServiceItemInput } from '#server/contract/services.ts';
import type { Renderer } from '#server/render/renderer.ts';
import type { TestApp } from './api.ts';

type Api = TestApp['api'];

/** A line of an order that sings a song. */
export function songItem(
  id: string,
  song: string,
  facts: Partial<ServiceItemInput> = {},
): ServiceItemInput {
  return { id, kind: 'song', song, ...facts };
}

export async function pagesOf(
  api: Api,
  service: string,
  member: string,
  query = '',
): Promise<PersonPages> {
  const answer = await api.get(`/api/services/${service}/pages/${member}${query}`).expect(200);
  return answer.body as PersonPages;
}

export interface QuickRenderer extends Renderer {
  /** How often something was engraved. */
  readonly count: () => number;
}

/** Draws nothing, at once: for tests of what is on the pages and not of how it looks. */
export function quickRenderer(): QuickRenderer {
  let count = 0;
  return {
    engrave: () => {
      count += 1;
      return Promise.resolve({ glyphs: '', systems: [] });
    },
    close: () => Promise.resolve(),
    count: () => count,
  };
}
