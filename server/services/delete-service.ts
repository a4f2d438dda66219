import type { Service } from '../contract/services.ts';
import type { StoredService } from '../store/services.store.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchService, requireService } from './find-services.ts';
import { hide, unhide, type Spoken } from './hide.ts';

const SERVICE: Spoken<StoredService> = {
  missing: noSuchService,
  name: ({ title, date }) => `The service “${title}” of ${date}`,
};

/** Hides the service and answers with its new version, which restoring it must name. */
export function deleteService(store: TeamStore, id: string, version: number): Promise<number> {
  return store.together(({ services }) => hide(services, id, version, SERVICE));
}

export function restoreService(
  store: TeamStore,
  id: string,
  version: number | null,
): Promise<Service> {
  return store.together(async (rooms) => {
    await unhide(rooms.services, id, version, SERVICE);
    return requireService(rooms, id);
  });
}
