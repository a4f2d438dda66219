import type {
  Addresses,
  MadeSetLink,
  NewSetLink,
  SetLink,
  SetLinkChange,
  SetLinkList,
} from '#server/contract/links.ts';
import { ask, type Answer } from './http.ts';

export function listLinks(service: string): Promise<Answer<SetLinkList>> {
  return ask(`/services/${service}/links`);
}

/** The answer is the only one that says the secret. */
export function makeLink(service: string, link: NewSetLink): Promise<Answer<MadeSetLink>> {
  return ask(`/services/${service}/links`, { method: 'POST', body: link });
}

export function changeLink(
  id: string,
  version: number,
  change: SetLinkChange,
): Promise<Answer<SetLink>> {
  return ask(`/links/${id}`, { method: 'PATCH', body: change, version });
}

export function findAddresses(): Promise<Answer<Addresses>> {
  return ask('/addresses');
}
