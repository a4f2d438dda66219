import type { Service, ServiceChange } from '#server/contract/services.ts';
import { findChange, type KeptChange } from './kept-changes.ts';
import type { Saver } from './saver.svelte.ts';

type ServiceSaver = Saver<Service, ServiceChange>;

/** Services whose last changes are still on their way: the next page of one waits for them. */
const leaving = new Map<string, Promise<void>>();
/** Of those, what could not be sent: the next page of one takes it over. */
const left = new Map<string, ServiceSaver>();

/** A page is left: what waits is sent. */
export function leaveBehind(id: string, saver: ServiceSaver): void {
  const sent = saver.retry();
  leaving.set(id, sent);
  void sent.finally(() => {
    if (leaving.get(id) === sent) leaving.delete(id);
    if (saver.held) left.set(id, saver);
  });
}

/** Done when what was left behind is sent, or cannot be. */
export const isSent = (id: string): Promise<void> => leaving.get(id) ?? Promise.resolve();

/** What waits to be sent of a service, from a page that was left or from an earlier start of this device. */
export async function takeOver(id: string): Promise<KeptChange | null> {
  const saver = left.get(id);
  const change = saver?.held;
  left.delete(id);
  const kept = saver && change ? { base: saver.stored, change } : await findChange(id);
  saver?.giveUp();
  return kept;
}
