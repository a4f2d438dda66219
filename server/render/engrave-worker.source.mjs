import { runSource } from '../threads/run-source.mjs';

await runSource('server/render/engrave-worker.ts');
