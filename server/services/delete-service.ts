import type { Service } from '../contract/services.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchService, requireService } from './find-services.ts';
import { staleVersion } from './stale-version.ts';

/** Hides the service and answers with its new version, which restoring it must name. */
export async function deleteService(
  store: TeamStore,
  id: string,
  version: number,
): Promise<number> {
  return store.together(async ({ services }) => {
    const service = await services.find(id);
    if (!service) throw noSuchService();
    if (!(await services.show(id, version, false))) {
      throw staleVersion(`The service “${service.title}” of ${service.date}`);
    }
    return service.version + 1;
  });
}

/** A deleted service cannot have been edited, so no version need be named; one that is named must be the right one. */
export async function restoreService(
  store: TeamStore,
  id: string,
  version: number | null,
): Promise<Service> {
  return store.together(async (rooms) => {
    const service = await rooms.services.find(id, 'deleted');
    if (!service) throw noSuchService();
    if (!(await rooms.services.show(id, version ?? service.version, true))) {
      throw staleVersion(`The service “${service.title}” of ${service.date}`);
    }
    return requireService(rooms, id);
  });
}
