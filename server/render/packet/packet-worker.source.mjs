import { runSource } from '../../threads/run-source.mjs';

await runSource('server/render/packet/packet-worker.ts');
