import { ESLint } from 'eslint';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
let lint: ESLint;
beforeAll(() => {
  lint = new ESLint({ cwd: root, overrideConfigFile: 'test/architecture/eslint.config.js' });
});

/** What the walls cannot see, the linter does: types alone in a component, globals, chance. */
const PLANTED: readonly [rule: string, file: string, text: string][] = [
  [
    'no-restricted-imports',
    'web/parts/Loaded.svelte',
    `<script lang="ts">import type { Song } from '#web/api/songs.ts'; const { song }: { song: Song } = $props();</script>{song}`,
  ],
  [
    'no-restricted-imports',
    'web/pages/song/Asked.svelte',
    `<script lang="ts">import type { Song } from '#web/api/songs.ts'; const { song }: { song: Song } = $props();</script>{song}`,
  ],
  ['no-restricted-globals', 'web/state/asks.svelte.ts', `export const asked = fetch('/api');`],
  ['no-restricted-globals', 'music/hand/now.ts', 'export const now = Date.now();'],
  ['no-restricted-properties', 'music/hand/dice.ts', 'export const dice = Math.random();'],
  ['no-console', 'music/hand/loud.ts', `console.log('C4');`],
  ['no-restricted-exports', 'music/hand/shape.ts', 'const shape = 1; export default shape;'],
  ['max-lines', 'music/hand/long.ts', 'export {};\n'.repeat(401)],
];

describe('The linter', () => {
  it.each(PLANTED)('finds %s in %s', async (rule, file, text) => {
    const [result] = await lint.lintText(text, { filePath: `${root}${file}` });
    expect(result?.messages.map((message) => message.ruleId)).toContain(rule);
  });
});
