import type { MarkedRange, SetPerson, SetView } from '#server/contract/set.ts';
import { askKept, type KeptAsk } from './ask-kept.ts';
import { ask, type Answer } from './http.ts';

export { forgetLink } from './kept.ts';

/** Exchanges the secret of a set link for a cookie that only the server reads. */
export function openSet(link: string, secret: string): Promise<Answer<void>> {
  return ask(`/set/${link}/session`, { method: 'POST', body: { secret } });
}

export function findSet(
  link: string,
  onlate: NonNullable<KeptAsk['onlate']>,
): Promise<Answer<SetView>> {
  return askKept(`/set/${link}`, { soon: true, onlate });
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
