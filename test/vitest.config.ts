import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('..', import.meta.url));
const setupFiles = ['test/support/quiet-console.ts'];

export default defineConfig({
  root,
  test: {
    root,
    reporters: ['default', './test/support/count-reporter.ts'],
    projects: [
      {
        root,
        test: {
          name: 'unit',
          include: [
            'music/**/*.test.ts',
            'server/**/*.test.ts',
            'test/reference/**/*.test.ts',
            'test/architecture/**/*.test.ts',
          ],
          environment: 'node',
          setupFiles,
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        root,
        plugins: [svelte({ configFile: false })],
        resolve: { conditions: ['browser'] },
        test: {
          name: 'web',
          include: ['web/**/*.test.ts'],
          environment: 'happy-dom',
          setupFiles,
        },
      },
      {
        root,
        test: {
          name: 'api',
          include: ['test/api/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['test/support/database-template.ts'],
          setupFiles,
          testTimeout: 20_000,
          hookTimeout: 60_000,
        },
      },
      {
        root,
        test: {
          name: 'browser',
          include: ['test/browser/**/*.test.ts'],
          environment: 'node',
          fileParallelism: false,
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
