import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { Engraving, type EngraveRequest } from '#music';
import { work } from '../threads/work.ts';

/** Engraves what it is sent, in a thread of its own: 0.1–0.3 s would block the server. */
const toolkit = new VerovioToolkit(await createVerovioModule());
work((request: EngraveRequest) => Engraving.engrave(toolkit, request));
