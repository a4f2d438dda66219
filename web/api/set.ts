import type { MarkedRange, SetPerson, SetView } from '#server/contract/set.ts';
import { ask, type Answer } from './http.ts';

/** Exchanges the secret of a set link for a cookie that only the server reads. */
export function openSet(link: string, secret: string): Promise<Answer<void>> {
  return ask(`/set/${link}/session`, { method: 'POST', body: { secret } });
}

export function findSet(link: string): Promise<Answer<SetView>> {
  return ask(`/set/${link}`);
}

export function closeSet(link: string): Promise<Answer<void>> {
  return ask(`/set/${link}/session`, { method: 'DELETE' });
}

export function markRange(
  link: string,
  person: string,
  marked: MarkedRange,
): Promise<Answer<SetPerson>> {
  return ask(`/set/${link}/people/${person}/range`, { method: 'PUT', body: marked });
}
