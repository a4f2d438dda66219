import { SvelteMap } from 'svelte/reactivity';
import { Known } from '#music';
import type { Member, ShapesAhead } from '#server/contract/members.ts';
import { findShapesAhead } from '#web/api/services.ts';
import { sayWeekday } from './dates.ts';
import type { ServicePage } from './service.svelte.ts';

/** Which shapes of a service its keyboard players know already. */
export class ServiceAhead {
  readonly #page: ServicePage;
  readonly #found = new SvelteMap<string, ShapesAhead>();

  constructor(page: ServicePage) {
    this.#page = page;
  }

  /** As the service is kept; what was found before stands until then, and where nothing can be found. */
  async fetch(members: readonly Pick<Member, 'id'>[]): Promise<void> {
    for (const { id } of members) {
      const answer = await findShapesAhead(this.#page.id, id);
      if (answer.ok) this.#found.set(id, answer.value);
    }
  }

  /** `Joel knows nine of Sunday’s eleven shapes. New: A♭, F7.`; empty where it is not known. */
  say({ id, name }: Pick<Member, 'id' | 'name'>): string {
    const { service } = this.#page;
    const found = this.#found.get(id);
    return service && found ? Known.sayAhead(found.shapes, name, sayWeekday(service.date)) : '';
  }

  /** The new shapes of one line of the order, each chord once. */
  newIn(member: string, item: string): string[] {
    const shapes = this.#found.get(member)?.shapes ?? [];
    const fresh = shapes.filter(({ songs, known }) => !known && songs.includes(item));
    return [...new Set(fresh.map(({ chord }) => chord))];
  }
}
