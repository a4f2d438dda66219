import { readdir, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { build } from 'esbuild';

const out = 'dist/server';
const { metafile } = await build({
  entryPoints: {
    main: 'server/main.ts',
    'engrave-worker': 'server/render/engrave-worker.ts',
    'packet-worker': 'server/render/packet/packet-worker.ts',
    'planning-worker': 'server/planning/planning-worker.ts',
    'reading-worker': 'server/reading/reading-worker.ts',
  },
  outdir: out,
  bundle: true,
  splitting: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  packages: 'external',
  sourcemap: true,
  metafile: true,
  logLevel: 'warning',
});

// Chunks are named by what is in them, so those of earlier builds would stay for ever.
const made = new Set(Object.keys(metafile.outputs).map((path) => basename(path)));
for (const file of await readdir(out))
  if (!made.has(file)) await rm(join(out, file), { recursive: true });
