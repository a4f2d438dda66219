import type { NewService, Service, ServiceListItem } from '#server/contract/services.ts';
import type { Trouble } from '#web/api/http.ts';
import { createService, deleteService, listServices, restoreService } from '#web/api/services.ts';
import { addDays, sayDay, sundayAfter, today, zoneHere } from './dates.ts';
import { notices } from './notice.svelte.ts';

/** What is coming and what was. */
export class Services {
  /** null: not there yet. */
  list = $state.raw<readonly ServiceListItem[] | null>(null);
  deleted = $state.raw<readonly ServiceListItem[]>([]);
  trouble = $state.raw<Trouble | null>(null);
  busy = $state(false);
  /** The service that is being begun. */
  date = $state('');
  time = $state('10:00');
  place = $state('');
  title = $state('');
  readonly today: string;

  constructor(day: string = today()) {
    this.today = day;
    this.date = sundayAfter(day);
  }

  /** The nearest first. */
  readonly coming = $derived(
    (this.list ?? [])
      .filter(({ over }) => !over)
      .toSorted((a, b) => a.startsAt.localeCompare(b.startsAt)),
  );
  /** The latest first. */
  readonly past = $derived(
    (this.list ?? [])
      .filter(({ over }) => over)
      .toSorted((a, b) => b.startsAt.localeCompare(a.startsAt)),
  );

  async load(): Promise<void> {
    const [kept, deleted] = await Promise.all([listServices(), listServices('deleted')]);
    this.trouble = !kept.ok ? kept.trouble : null;
    if (deleted.ok) this.deleted = deleted.value.services;
    if (!kept.ok) return;
    const first = this.list === null;
    this.list = kept.value.services;
    if (first) this.#begin();
  }

  /** The time and place of the latest service are likely those of the next, and its Sunday one that is still free. */
  #begin(): void {
    const latest = (this.list ?? []).toSorted((a, b) => b.startsAt.localeCompare(a.startsAt))[0];
    if (!latest) return;
    this.time = latest.time;
    this.place = latest.place;
    this.date = this.#freeFrom(this.date);
  }

  /** That day, or the first so many weeks after it on which nothing is planned yet. */
  #freeFrom(date: string): string {
    const taken = new Set(this.list?.map((each) => each.date));
    let free = date;
    while (taken.has(free)) free = addDays(free, 7);
    return free;
  }

  /** @returns the new service; null where it could not be made: `trouble` says why */
  create(): Promise<Service | null> {
    const [title, place] = [this.title.trim(), this.place.trim()];
    return this.#create({
      date: this.date,
      time: this.time,
      place,
      ...(title ? { title } : {}),
      // The others may be the demo’s, or made on a journey: who begins a service means the clocks they live by.
      zone: zoneHere(),
    });
  }

  /** Its order and people, a week later, or on the next Sunday after today where that is past; the first that is free. */
  copy(from: ServiceListItem): Promise<Service | null> {
    const week = addDays(from.date, 7);
    return this.#create({
      from: from.id,
      date: this.#freeFrom(week > this.today ? week : sundayAfter(this.today)),
    });
  }

  async takeOut(service: ServiceListItem): Promise<void> {
    const before = this.list;
    this.list = (before ?? []).filter(({ id }) => id !== service.id);
    const answer = await deleteService(service.id, service.version);
    if (!answer.ok) {
      this.list = before;
      notices.say(answer.trouble.message);
      return;
    }
    await this.load();
    const name = `${service.title}, ${sayDay(service.date, this.today)},`;
    notices.say(`${name} is taken out.`, () => this.restore(service));
  }

  async restore({ id }: ServiceListItem): Promise<void> {
    const back = await restoreService(id);
    if (!back.ok) notices.say(back.trouble.message);
    await this.load();
  }

  async #create(service: NewService): Promise<Service | null> {
    if (this.busy) return null;
    this.busy = true;
    const answer = await createService(service);
    this.busy = false;
    this.trouble = answer.ok ? null : answer.trouble;
    return answer.ok ? answer.value : null;
  }
}
