import { build } from 'esbuild';

await build({
  entryPoints: {
    main: 'server/main.ts',
    'engrave-worker': 'server/render/engrave-worker.ts',
    'packet-worker': 'server/render/packet/packet-worker.ts',
    'reading-worker': 'server/reading/reading-worker.ts',
  },
  outdir: 'dist/server',
  bundle: true,
  splitting: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  packages: 'external',
  sourcemap: true,
  logLevel: 'warning',
});
