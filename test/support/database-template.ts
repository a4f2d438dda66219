import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** An empty database with the tables that the migrations make; each test copies it. */
    databaseTemplate: string;
  }
}

/** Makes the tables once for all files, the way a start does. */
export default function setup(project: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'partbook-template-'));
  const template = join(folder, 'template.db');
  execFileSync(
    process.execPath,
    [
      'node_modules/prisma/build/index.js',
      'migrate',
      'deploy',
      '--config',
      'prisma/prisma.config.ts',
    ],
    {
      env: {
        ...process.env,
        DATABASE_URL: `file:${template}`,
        CHECKPOINT_DISABLE: '1',
        PRISMA_HIDE_UPDATE_MESSAGE: '1',
      },
      stdio: 'pipe',
    },
  );
  project.provide('databaseTemplate', template);
  return () => rmSync(folder, { recursive: true, force: true });
}
