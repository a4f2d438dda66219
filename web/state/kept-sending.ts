import { servicesThatWait } from './kept-changes.ts';
import { router } from './router.svelte.ts';
import { retryUnanswered } from './saver.svelte.ts';

/** ms between two tries while something waits: a network may be there without the device noticing. */
const AGAIN = 20_000;

/** Services that were opened here, behind the page, to send what waits of them. */
const sending = new Set<string>();

/** Sends whatever waits, of pages that are open and of services that nobody has open. */
async function send(): Promise<void> {
  retryUnanswered();
  for (const id of await servicesThatWait()) {
    if (sending.has(id) || router.path.includes(id)) continue;
    sending.add(id);
    const { ServicePage } = await import('./service.svelte.ts');
    await new ServicePage(id).load();
  }
}

/** What could not be sent is sent when the network is back, at the next start too, and is tried again meanwhile. */
export function sendWhatWaits(): void {
  addEventListener('online', () => void send());
  setInterval(retryUnanswered, AGAIN);
  void send();
}
