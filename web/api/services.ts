import type { ShapesAhead } from '#server/contract/members.ts';
import type { NewService, Service, ServiceChange, ServiceList } from '#server/contract/services.ts';
import { askKept } from './ask-kept.ts';
import { ask, type Answer } from './http.ts';

/** @param which `deleted`: those that can be restored */
export function listServices(which: 'kept' | 'deleted' = 'kept'): Promise<Answer<ServiceList>> {
  return which === 'deleted' ? ask('/services?deleted=1') : askKept('/services');
}

export function findService(id: string): Promise<Answer<Service>> {
  return askKept(`/services/${id}`);
}

export function createService(service: NewService): Promise<Answer<Service>> {
  return ask('/services', { method: 'POST', body: service });
}

export function changeService(
  id: string,
  version: number,
  change: ServiceChange,
): Promise<Answer<Service>> {
  return ask(`/services/${id}`, { method: 'PATCH', body: change, version });
}

export function deleteService(id: string, version: number): Promise<Answer<void>> {
  return ask(`/services/${id}`, { method: 'DELETE', version });
}

export function restoreService(id: string): Promise<Answer<Service>> {
  return ask(`/services/${id}/restore`, { method: 'POST' });
}

/** The shapes of somebody at the keys there, and which of them they have met before. */
export function findShapesAhead(id: string, member: string): Promise<Answer<ShapesAhead>> {
  return ask(`/services/${id}/shapes/${member}`);
}
