import { createStore, del, get, keys, promisifyRequest, type UseStore } from 'idb-keyval';
import type { Service, ServiceChange } from '#server/contract/services.ts';

/** A change of a service that could not be sent yet, with the service that it was made on. */
export interface KeptChange {
  readonly base: Service;
  readonly change: ServiceChange;
}

let store: UseStore | null = null;
const changes = (): UseStore => (store ??= createStore('partbook-changes', 'services'));

/** A device may have no such place, or no room: then a change lives as long as its page. */
async function quietly<T>(work: () => Promise<T>): Promise<T | null> {
  try {
    return await work();
  } catch {
    return null;
  }
}

/** Handed over whole and at once, so that a tab may be killed right after (Indexed Database API 3.0, commit()). */
export async function keepChange(id: string, kept: KeptChange): Promise<void> {
  await quietly(() =>
    changes()('readwrite', (place) => {
      place.put(kept, id);
      place.transaction.commit();
      return promisifyRequest(place.transaction);
    }),
  );
}

/** The server has it, or it was put back. */
export async function forgetChange(id: string): Promise<void> {
  await quietly(() => del(id, changes()));
}

export async function findChange(id: string): Promise<KeptChange | null> {
  return (await quietly(() => get<KeptChange>(id, changes()))) ?? null;
}

/** Ids of the services of which something waits. */
export async function servicesThatWait(): Promise<string[]> {
  return (await quietly(() => keys<string>(changes()))) ?? [];
}
