import type { ServiceChange, ServiceItem, ServicePerson } from '#server/contract/services.ts';

/** Changes of an order and its people: what was goes in and stays, what is comes out. */

export type ItemKind = ServiceItem['kind'];

/** What a line is called where it has no title of its own. */
export const KIND_NAMES: Readonly<Record<ItemKind, string>> = {
  song: 'Song',
  reading: 'Reading',
  prayer: 'Prayer',
  talk: 'Talk',
  other: 'Other',
};

/** What a field of a service is called where two changed it. */
export const FIELD_NAMES: Readonly<Partial<Record<keyof ServiceChange, string>>> = {
  title: 'what the service is called',
  date: 'the date',
  time: 'when it begins',
  zone: 'the time zone',
  place: 'the place',
  items: 'the order',
  people: 'who serves',
};

/** Where most orders begin, in whole minutes (invented starting values; a person sets them). */
const USUAL_MINUTES: Readonly<Record<ItemKind, number | null>> = {
  song: null,
  reading: 3,
  prayer: 3,
  talk: 15,
  other: 3,
};

export function newItem(kind: ItemKind, song: string | null = null): ServiceItem {
  return {
    id: crypto.randomUUID(),
    kind,
    title: '',
    minutes: USUAL_MINUTES[kind],
    note: '',
    song,
    key: null,
    lead: null,
    form: null,
    playedIn: {},
    rungs: {},
    wayOn: null,
  };
}

/** Puts a line after another; null: at the end. */
export function withItem(
  items: readonly ServiceItem[],
  item: ServiceItem,
  after: string | null = null,
): ServiceItem[] {
  const at = items.findIndex(({ id }) => id === after);
  return at < 0 ? [...items, item] : items.toSpliced(at + 1, 0, item);
}

export function withoutItem(items: readonly ServiceItem[], id: string): ServiceItem[] {
  return items.filter((item) => item.id !== id);
}

/** The line `by` places further down (negative: up); as it was where it stands at the end already. */
export function moved(items: readonly ServiceItem[], id: string, by: number): ServiceItem[] {
  const at = items.findIndex((item) => item.id === id);
  const item = items[at];
  const to = at + by;
  if (!item || to < 0 || to >= items.length) return [...items];
  return items.toSpliced(at, 1).toSpliced(to, 0, item);
}

export function changedItem(
  items: readonly ServiceItem[],
  id: string,
  change: Partial<ServiceItem>,
): ServiceItem[] {
  return items.map((item) => (item.id === id ? { ...item, ...change } : item));
}

export function changedPerson(
  people: readonly ServicePerson[],
  member: string,
  change: Partial<ServicePerson>,
): ServicePerson[] {
  return people.map((person) => (person.member === member ? { ...person, ...change } : person));
}

/** An element of any list one place up or down. */
export function swapped<T>(list: readonly T[], at: number, by: -1 | 1): T[] {
  const [here, there] = [list[at], list[at + by]];
  if (here === undefined || there === undefined) return [...list];
  return list.with(at, there).with(at + by, here);
}
