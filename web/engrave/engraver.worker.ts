import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { Engraving } from '#music';
import type { Job, WorkerSays } from './messages.ts';

const say = (message: WorkerSays): void => postMessage(message);
const starting = createVerovioModule().then((module) => new VerovioToolkit(module));
void starting.then(() => say({ kind: 'ready' }));

addEventListener('message', async ({ data: { id, request } }: MessageEvent<Job>) => {
  try {
    say({ kind: 'done', id, engraved: Engraving.engrave(await starting, request) });
  } catch (error) {
    say({ kind: 'failed', id, message: error instanceof Error ? error.message : String(error) });
  }
});
