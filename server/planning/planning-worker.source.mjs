import { runSource } from '../threads/run-source.mjs';

await runSource('server/planning/planning-worker.ts');
