import type { NewService, Service, ServiceItemInput } from '#server/contract/services.ts';
import type { TestApp } from './api.ts';

type Api = TestApp['api'];

/** A service on the first Sunday of Advent 2026, in Berlin. */
export async function addService(api: Api, facts: Partial<NewService> = {}): Promise<Service> {
  const answer = await api
    .post('/api/services')
    .send({ title: 'Advent', date: '2026-11-29', time: '10:30', zone: 'Europe/Berlin', ...facts })
    .expect(201);
  return answer.body as Service;
}

/** A line of an order that sings a song. */
export function songItem(
  id: string,
  song: string,
  facts: Partial<ServiceItemInput> = {},
): ServiceItemInput {
  return { id, kind: 'song', song, ...facts };
}
