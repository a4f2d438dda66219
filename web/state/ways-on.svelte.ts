import { Onwards, type Neighbours, type Way } from '#music';
import type { ServiceItem } from '#server/contract/services.ts';
import { notices } from './notice.svelte.ts';
import { orderedOf } from './service-sheet.ts';
import type { ServicePage } from './service.svelte.ts';
import { piano } from './sound.svelte.ts';

/** What stands between a song of the order and the next one. */
export interface WayLine {
  /** `F → G`, or `stays in C`; empty: there are no two keys. */
  readonly keys: string;
  /** The same for whoever hears it: `From F to G`, `Stays in C`. */
  readonly said: string;
  /** `by Am and D7, common chord, into G`, `no way chosen`, or what has become of the one that was chosen. */
  readonly words: string;
  /** What was chosen is not there any more. */
  readonly isGone: boolean;
  readonly ways: readonly Way[];
  /** How the beat goes over; empty: a tempo is not known. */
  readonly tempo: string;
}

/** How long a chord is heard, and how loud. */
const [SECONDS, LEVEL] = [1.1, 0.5];

/** The ways from song to song of an order: which there are, which one is chosen, what they sound like. */
export class WaysOn {
  readonly #page: ServicePage;
  /** Id of the line whose ways lie open. */
  open = $state<string | null>(null);

  constructor(page: ServicePage) {
    this.#page = page;
  }

  readonly #ordered = $derived.by(() => orderedOf(this.#page.items, this.#page));

  /** Null: nothing leads on from here, and nothing was chosen. */
  lineOf({ id, wayOn }: ServiceItem): WayLine | null {
    const found = this.#at(id);
    const said = Onwards.sayOnward(this.#ordered, this.#placeOf(id));
    if (typeof found === 'string') {
      if (wayOn === null) return null;
      return { keys: '', said: '', words: said, isGone: true, ways: [], tempo: '' };
    }
    const { from, to, ways, tempo } = found;
    const way = ways.find(({ kind }) => kind === wayOn);
    const [old, key] = [Onwards.inKey(from.key), Onwards.inKey(to.key)];
    return {
      keys: old === key ? `stays in ${key}` : `${old} → ${key}`,
      said: old === key ? `Stays in ${key}` : `From ${old} to ${key}`,
      words: way ? Onwards.sayWay(way, to) : wayOn ? said : 'no way chosen',
      isGone: wayOn !== null && !way,
      ways,
      tempo: tempo.words,
    };
  }

  /** @param way null: none */
  choose(item: ServiceItem, way: Way | null): void {
    const wayOn = way?.kind ?? null;
    if (wayOn === item.wayOn) return;
    const found = this.#at(item.id);
    const from = this.#page.titleOf(item);
    const words =
      way && typeof found !== 'string'
        ? `From ${from} to ${found.title}: ${Onwards.sayWay(way, found.to)}.`
        : `After ${from}: no way on is chosen.`;
    this.#page.changeItem(item.id, { wayOn }, words);
  }

  /** The last chord of the one song, the way, and the first chord of the other. */
  async hear(item: ServiceItem, way: Way): Promise<void> {
    const found = this.#at(item.id);
    if (typeof found === 'string') return;
    if ((await piano.ready()) === 'silent') {
      notices.say('Nothing can sound on this device now.');
      return;
    }
    const start = piano.now() + 0.1;
    Onwards.heard(way, found.from, found.to).forEach((pitches, i) => {
      for (const pitch of pitches) {
        const release = piano.at(pitch, start + i * SECONDS, LEVEL);
        release(start + (i + 1) * SECONDS);
      }
    });
  }

  #at(id: string): Neighbours | string {
    return Onwards.neighboursAt(this.#ordered, this.#placeOf(id));
  }

  #placeOf(id: string): number {
    return this.#page.items.findIndex((item) => item.id === id);
  }
}
