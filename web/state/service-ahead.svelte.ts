import { SvelteMap } from 'svelte/reactivity';
import { Known, type ShapeAhead } from '#music';
import type { Member, ShapesAhead } from '#server/contract/members.ts';
import { findShapesAhead } from '#web/api/services.ts';
import { sayWeekday } from './dates.ts';
import type { ServiceEase } from './service-ease.svelte.ts';
import { readerOf } from './service-week.ts';
import type { ServicePage } from './service.svelte.ts';

/** Which shapes of a service its keyboard players have played here already. */
export class ServiceAhead {
  readonly #page: ServicePage;
  readonly #ease: ServiceEase;
  readonly #found = new SvelteMap<string, ShapesAhead>();
  #asked = 0;

  /** @param ease what is played of the song in hand as it stands now: what is kept follows later */
  constructor(page: ServicePage, ease: ServiceEase) {
    this.#page = page;
    this.#ease = ease;
  }

  /** As the service is kept; what was found before stands until then, and where nothing can be found. The last to ask counts. */
  async fetch(members: readonly Pick<Member, 'id'>[]): Promise<void> {
    const asked = (this.#asked += 1);
    for (const { id } of members) {
      const answer = await findShapesAhead(this.#page.id, id);
      if (asked !== this.#asked) return;
      if (answer.ok) this.#found.set(id, answer.value);
    }
  }

  /**
   * `Joel has played nine of Sunday’s eleven shapes here. Not played here yet: A♭ and F7.`; empty where it is not known,
   * and for an advanced player, to whom no chord is news.
   */
  say(member: Member): string {
    const { service } = this.#page;
    if (!service || isAdvanced(member)) return '';
    return Known.sayAhead(this.#shapesOf(member.id), member.name, sayWeekday(service.date));
  }

  /** The shapes of one line of the order that they have not played here yet, each chord once. */
  newIn(member: Member, item: string): string[] {
    if (isAdvanced(member)) return [];
    const fresh = this.#shapesOf(member.id).filter(
      ({ songs, known }) => !known && songs.includes(item),
    );
    return [...new Set(fresh.map(({ chord }) => chord))];
  }

  #shapesOf(member: string): readonly ShapeAhead[] {
    const found = this.#found.get(member)?.shapes ?? [];
    const now = this.#ease.now(member);
    return found.length > 0 && now ? Known.withLine(found, now, now.known) : found;
  }
}

const isAdvanced = (member: Member): boolean => readerOf(member, 'keys').level === 'advanced';
