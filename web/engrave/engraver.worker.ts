import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { Engraving } from '#music';
import type { Job, WorkerSays } from './messages.ts';

const say = (message: WorkerSays): void => postMessage(message);
const starting = createVerovioModule().then((module) => new VerovioToolkit(module));
void starting.then(() => {
  say({ kind: 'ready' });
  void keepForLater();
});

/**
 * Keeps this file for a start without a network, and no older one (web/vite.config.ts names the place). It was fetched
 * just now, so that the browser has it still. Without a secure page there is no such place.
 */
async function keepForLater(): Promise<void> {
  try {
    const kept = await caches.open('engraver');
    if (!(await kept.match(location.href))) await kept.add(location.href);
    for (const { url } of await kept.keys()) {
      if (url !== location.href) await kept.delete(url);
    }
  } catch {
    // The device has no room or no such place: the server engraves.
  }
}

addEventListener('message', async ({ data: { id, request } }: MessageEvent<Job>) => {
  try {
    say({ kind: 'done', id, engraved: Engraving.engrave(await starting, request) });
  } catch (error) {
    say({ kind: 'failed', id, message: error instanceof Error ? error.message : String(error) });
  }
});
