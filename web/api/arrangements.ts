import type { Arrangement, ArrangementChange } from '#server/contract/arrangements.ts';
import { askKept } from './ask-kept.ts';
import { ask, type Answer } from './http.ts';

export function usualArrangement(songId: string): Promise<Answer<Arrangement>> {
  return askKept(`/songs/${songId}/arrangement`);
}

export function changeArrangement(
  songId: string,
  version: number,
  change: ArrangementChange,
): Promise<Answer<Arrangement>> {
  return ask(`/songs/${songId}/arrangement`, { method: 'PATCH', body: change, version });
}
