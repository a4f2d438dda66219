import { Keys, Leads, type Key, type OrderSheet, type Role } from '#music';
import type { Service, ServiceChange, ServiceItem } from '#server/contract/services.ts';
import type { Trouble } from '#web/api/http.ts';
import { changeService, deleteService, findService, restoreService } from '#web/api/services.ts';
import { listSongs } from '#web/api/songs.ts';
import { forgetChange, keepChange } from './kept-changes.ts';
import { notices } from './notice.svelte.ts';
import { People } from './people.svelte.ts';
import { Saver } from './saver.svelte.ts';
import {
  changedItem,
  changedPerson,
  FIELD_NAMES,
  KIND_NAMES,
  moved,
  newItem,
  withItem,
  withoutItem,
  type ItemKind,
} from './service-order.ts';
import { isSent, leaveBehind, takeOver } from './service-left.ts';
import { SongShelf } from './service-songs.svelte.ts';
import { sheetOf } from './service-sheet.ts';
import { weekOf, type PersonThisWeek } from './service-week.ts';
import { Songs } from './songs.svelte.ts';

interface Step {
  readonly back: ServiceChange;
  readonly words: string;
  /** It is taken back. */
  readonly onback: (() => void) | undefined;
}

/** How many changes can be taken back, one after another. */
const STEPS_KEPT = 50;

/** One service: its order and its people. Every change is on the screen at once; saving follows. */
export class ServicePage {
  readonly id: string;
  service = $state.raw<Service | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  saver = $state.raw<Saver<Service, ServiceChange> | null>(null);
  /** Id of the line whose side page is open. */
  inHand = $state<string | null>(null);
  /** What a screen reader is told of a move. */
  said = $state('');
  readonly shelf = new SongShelf();
  readonly book = new Songs();
  readonly people = new People();
  /** Titles of songs that were taken out of the book, by id. */
  #goneTitles = $state.raw<ReadonlyMap<string, string>>(new Map());
  readonly #steps: Step[] = [];

  constructor(id: string) {
    this.id = id;
  }

  readonly items: readonly ServiceItem[] = $derived(this.service?.items ?? []);
  readonly week: readonly PersonThisWeek[] = $derived(
    weekOf(this.service?.people ?? [], this.people.shown),
  );
  readonly members = $derived(this.week.flatMap(({ member }) => member ?? []));
  /** Who could be asked, by name. */
  readonly others = $derived(
    this.people.shown.filter(({ id }) => !this.week.some(({ person }) => person.member === id)),
  );
  readonly line: ServiceItem | null = $derived(
    this.items.find(({ id }) => id === this.inHand) ?? null,
  );
  /** As the leader's page prints it: times, keys, leads, and what a missing role means. */
  readonly sheet: OrderSheet | null = $derived.by(
    () => this.service && sheetOf(this.service, this),
  );

  async load(): Promise<void> {
    await isSent(this.id);
    const [found] = await Promise.all([findService(this.id), this.people.load(), this.book.load()]);
    const held = this.saver?.held;
    const kept = held ? null : await takeOver(this.id);
    const isThere = found.ok || (kept !== null && found.trouble.status === 0);
    this.trouble = found.ok || isThere ? null : found.trouble;
    if (held && found.ok) this.service = { ...found.value, ...held } as Service;
    else if (kept && isThere) this.#beginWith(kept.base, kept.change);
    else if (found.ok && !held) this.#beginWith(found.value);
    await this.#fetchSongs();
  }

  /** The page is left: what waits is sent, and its way back goes with it. */
  leave(): void {
    notices.leave(this);
    if (this.saver) leaveBehind(this.id, this.saver);
  }

  /** What a line is called: a song by its title. */
  titleOf({ kind, song, title }: ServiceItem): string {
    if (kind !== 'song' || song === null) return title || KIND_NAMES[kind];
    const listed = this.book.list?.find(({ id }) => id === song)?.title;
    const known = this.shelf.find(song)?.song.score.facts.title ?? listed;
    return known ?? this.#goneTitles.get(song) ?? (title || 'a song');
  }

  /** The key a song sounds in. */
  keyOf({ song, key }: ServiceItem): Key | null {
    const usual = this.shelf.find(song)?.arrangement.key ?? null;
    // Chosen before the song was said to be in another mode: it means another song.
    return key && usual && key.mode !== usual.mode ? usual : (key ?? usual);
  }

  /** Who leads it, by id; null: nobody is named, or usual. */
  leadOf({ kind, song, lead }: ServiceItem): string | null {
    if (kind !== 'song') return lead;
    return Leads.leadOf(lead, this.shelf.find(song)?.arrangement.lead ?? null, this.members);
  }

  nameOf(member: string | null): string | null {
    return this.people.shown.find(({ id }) => id === member)?.name ?? null;
  }

  addSong(song: string): void {
    this.#add(newItem('song', song));
    void this.shelf.fetch([song]);
  }

  add(kind: Exclude<ItemKind, 'song'>): void {
    this.#add(newItem(kind));
  }

  takeOut(item: ServiceItem): void {
    const items = withoutItem(this.items, item.id);
    this.change({ items }, `${this.titleOf(item)} is out of the order.`);
    if (this.inHand === item.id) this.inHand = null;
  }

  move(item: ServiceItem, by: number): void {
    const items = moved(this.items, item.id, by);
    const at = items.findIndex(({ id }) => id === item.id);
    const before = this.items.findIndex(({ id }) => id === item.id);
    const words = `${this.titleOf(item)}: line ${at + 1} of ${items.length}.`;
    this.said = at === before ? `${words} It stands at the end.` : words;
    if (at !== before) this.change({ items }, `${this.titleOf(item)} is moved.`);
  }

  /** After a drag: the ids as they lie now. */
  reorder(ids: readonly string[], dragged: string): void {
    const items = ids.flatMap((id) => this.items.find((item) => item.id === id) ?? []);
    if (items.length !== this.items.length) return;
    if (items.every(({ id }, i) => id === this.items[i]?.id)) return;
    const item = items.find(({ id }) => id === dragged);
    this.change({ items }, `${item ? this.titleOf(item) : 'The line'} is moved.`);
  }

  changeItem(id: string, change: Partial<ServiceItem>, words: string): void {
    this.change({ items: changedItem(this.items, id, change) }, words);
  }

  /** @param member with what they usually do */
  addPerson(member: { id: string; name: string; roles: readonly Role[] }): void {
    const person = { member: member.id, roles: [...member.roles], voice: null };
    const people = [...(this.service?.people ?? []), person];
    this.change({ people }, `${member.name} serves this week.`);
  }

  async addNewPerson(): Promise<void> {
    const member = await this.people.add([]);
    if (member) this.addPerson(member);
  }

  takeOutPerson({ person, member }: PersonThisWeek): void {
    const people = (this.service?.people ?? []).filter((each) => each !== person);
    this.change({ people }, `${member?.name ?? 'Someone'} does not serve this week.`);
  }

  changePerson(
    { person }: PersonThisWeek,
    change: Partial<Service['people'][number]>,
    words: string,
  ): void {
    const people = changedPerson(this.service?.people ?? [], person.member, change);
    this.change({ people }, words);
  }

  /** On the screen at once, saved after; the foot of the page and Ctrl+Z lead back. @param onback it is taken back */
  change(change: ServiceChange, words: string, onback?: () => void): void {
    const before = this.service;
    if (!before) return;
    const back = Object.fromEntries(
      Object.keys(change).map((field) => [field, before[field as keyof ServiceChange]]),
    ) as ServiceChange;
    this.#steps.push({ back, words, onback });
    if (this.#steps.length > STEPS_KEPT) this.#steps.shift();
    this.#put(change);
    notices.say(words, () => this.undo(), { owner: this });
  }

  undo(): void {
    const step = this.#steps.pop();
    if (!step) return;
    this.#put(step.back);
    step.onback?.();
    this.said = `Taken back: ${step.words}`;
    void this.#fetchSongs();
    const next = this.#steps.at(-1);
    if (next) {
      notices.say(`Taken back. Before that: ${next.words}`, () => this.undo(), { owner: this });
    } else notices.say('Taken back.');
  }

  /** @returns whether it is gone */
  async delete(): Promise<boolean> {
    const service = this.service;
    if (!service) return false;
    await this.saver?.retry();
    const answer = await deleteService(this.id, this.saver?.version ?? service.version);
    if (!answer.ok) notices.say(answer.trouble.message);
    else
      notices.say(`${service.title} is taken out.`, async () => {
        const back = await restoreService(this.id);
        if (!back.ok) notices.say(back.trouble.message);
        else notices.say(`${service.title} is back among the services.`);
      });
    return answer.ok;
  }

  #add(item: ServiceItem): void {
    const items = withItem(this.items, item, this.inHand);
    this.change({ items }, `${this.titleOf(item)} is in the order.`);
    this.inHand = item.id;
  }

  #put(change: ServiceChange): void {
    if (!this.service) return;
    this.service = { ...this.service, ...change } as Service;
    void this.saver?.change(change);
  }

  async #fetchSongs(): Promise<void> {
    const songs = this.items.flatMap(({ song }) => song ?? []);
    const listed = new Set(this.book.list?.map(({ id }) => id));
    const [gone] = await Promise.all([
      this.book.list && songs.some((id) => !listed.has(id)) ? listSongs('deleted') : null,
      this.shelf.fetch(songs),
    ]);
    if (gone?.ok) this.#goneTitles = new Map(gone.value.songs.map(({ id, title }) => [id, title]));
  }

  /** @param change what waits to be sent on top of it */
  #beginWith(service: Service, change?: ServiceChange): void {
    this.service = { ...service, ...change } as Service;
    const saver = new Saver<Service, ServiceChange>(service, {
      send: (version, change) => changeService(this.id, version, change),
      onsaved: (saved) => {
        if (saver === this.saver) this.service = saved;
      },
      fresh: () => findService(this.id),
      onheld: (held, base) => {
        if (held) void keepChange(this.id, { base, change: held });
        else void forgetChange(this.id);
      },
      onmerged: (now, lost) => {
        if (saver === this.saver) this.#merged(now, lost);
      },
      onstale: async () => {
        if (saver !== this.saver) return;
        // What would be taken back is not what stands there now.
        this.#steps.length = 0;
        notices.say('Someone else changed this service in between; here is how it stands now.');
        await this.load();
      },
    });
    this.saver = saver;
    if (change) void saver.change(change);
  }

  /** Someone else changed the service in between: theirs stands where both changed the same, and one tap puts mine there. */
  #merged(now: Service, lost: ServiceChange | null): void {
    // What would be taken back is not what stands there now.
    this.#steps.length = 0;
    this.service = now;
    void this.#fetchSongs();
    if (!lost) {
      notices.say('Someone else changed this service in between; both changes stand.');
      return;
    }
    const fields = Object.keys(lost).map(
      (field) => FIELD_NAMES[field as keyof ServiceChange] ?? field,
    );
    notices.say(
      `Someone else changed ${fields.join(' and ')} in between. Theirs stands; your last change there was not kept.`,
      () => this.change(lost, 'Yours stands now.'),
      { label: 'Use mine', owner: this },
    );
  }
}

/** `Amazing grace in E♭ major`. */
export const sayIn = (title: string, key: Key): string => `${title} in ${Keys.sayKey(key)}`;
