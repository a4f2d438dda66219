import { runSource } from '../threads/run-source.mjs';

await runSource('server/reading/reading-worker.ts');
