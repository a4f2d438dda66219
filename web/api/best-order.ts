import type { BestOrderAnswer, BestOrderQuestion } from '#server/contract/best-order.ts';
import { ask, type Answer } from './http.ts';

/** Keys, leads and order of a service, weighed together; it saves nothing and takes a second or two. */
export function findBestOrder(
  service: string,
  question: BestOrderQuestion,
  signal: AbortSignal,
): Promise<Answer<BestOrderAnswer>> {
  return ask(`/services/${service}/best-order`, {
    method: 'POST',
    body: question,
    changes: false,
    signal,
  });
}
