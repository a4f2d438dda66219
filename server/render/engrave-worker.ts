import { parentPort } from 'node:worker_threads';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { Engraving } from '#music';
import type { Job, JobAnswer } from './messages.ts';

/** Engraves what it is sent, one job after another, in a thread of its own: 0.1–0.3 s would block the server. */
const port = parentPort;
if (!port) throw new Error('the engraver runs as a worker thread');
const toolkit = new VerovioToolkit(await createVerovioModule());

port.on('message', ({ id, request }: Job) => {
  let answer: JobAnswer;
  try {
    answer = { id, ok: true, engraved: Engraving.engrave(toolkit, request) };
  } catch (error) {
    answer = { id, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
  port.postMessage(answer);
});
