import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { cruise, type ICruiseResult } from 'dependency-cruiser';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import walls from './walls.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const ROOMS = ['music', 'server', 'web', 'test', 'prisma'];

/** A house in small, in which every wall is kept. */
const HOUSE: Readonly<Record<string, string>> = {
  'music/index.ts': `export * as Pitches from './pitch/pitch.ts'; export * from './sheet/sheet.ts';`,
  'music/result.ts': 'export const result = 1;',
  'music/pitch/pitch.ts': `import { Note } from 'tonal'; export { result } from '../result.ts'; export const note = Note;`,
  'music/score/score.ts': `export { note } from '../pitch/pitch.ts';`,
  'music/score/score.test.ts': `import '../../test/support/builder.ts'; import '#music';`,
  'music/formats/abc.ts': `export * from '../score/score.ts';`,
  'music/hand/shape.ts': `export * from '../score/score.ts';`,
  'music/parts/part.ts': `export * from '../hand/shape.ts';`,
  'music/order/lengths.ts': `export * from '../parts/part.ts';`,
  'music/sheet/sheet.ts': `export * from '../order/lengths.ts';`,
  'server/contract/songs.ts': `import '#music'; import { z } from 'zod'; export const song = z.string();`,
  'server/store/songs.store.ts': `import '#music'; import '@prisma/client'; export const rows = 1;`,
  'server/render/engraver.ts': `import '#music'; import 'node:fs'; import 'verovio/esm'; export const draw = 1;`,
  'server/store/guarded.ts': `import '@prisma/client'; export const guard = 1;`,
  'server/store/database.ts': `import '@prisma/client'; export const open = 1;`,
  'server/store/store.ts': `import './songs.store.ts'; import './guarded.ts'; import './database.ts'; export const store = 1;`,
  'server/services/find-songs.ts': `import '#music'; import type { rows } from '#server/store/songs.store.ts'; export type Rows = typeof rows; import '#server/render/engraver.ts'; export const find = 1;`,
  'server/routes/songs.routes.ts': `import 'fastify'; import '#server/contract/songs.ts'; import '#server/services/find-songs.ts'; export const routes = 1;`,
  'server/app.ts': `import '#server/routes/songs.routes.ts';`,
  'web/api/songs.ts': `import type { song } from '#server/contract/songs.ts'; import '#music'; export type Song = typeof song;`,
  'web/state/song.svelte.ts': `import '#web/api/songs.ts'; import '#web/engrave/engrave.ts'; import '#web/plan/planner.ts'; export class State {}`,
  'web/engrave/engrave.ts': `import '#music'; import 'verovio/esm'; export const draw = 1;`,
  'web/plan/planner.ts': `import '#music'; export const plan = 1;`,
  'web/parts/Staff.svelte': `<script lang="ts">import { Pitches } from '#music'; const { pitch }: { pitch: string } = $props();</script><p>{Pitches}{pitch}</p>`,
  'web/pages/song/Song.svelte': `<script lang="ts">import Staff from '#web/parts/Staff.svelte'; import { State } from '#web/state/song.svelte.ts'; import Line from './Line.svelte'; const state = new State();</script><Staff pitch="C4" /><Line />{state}`,
  'web/pages/song/Line.svelte': '<hr />',
  'web/pages/people/People.svelte': '<p>People</p>',
  'test/support/builder.ts': `import '#music'; import '#server/app.ts'; export const build = 1;`,
};

/** One violation of each wall: which wall, the file that breaks it, and what that file says. */
const PLANTED: readonly [wall: string, file: string, text: string][] = [
  ['music-is-pure', 'music/hand/clock.ts', `import 'node:fs';`],
  ['music-has-one-door', 'web/state/deep.svelte.ts', `import '../../music/pitch/pitch.ts';`],
  ['pitch-is-the-ground', 'music/pitch/high.ts', `import '../score/score.ts';`],
  ['score-stands-on-pitch', 'music/score/hands.ts', `import '../hand/shape.ts';`],
  ['formats-know-the-parser-of-their-format', 'music/formats/page.ts', `import 'svelte';`],
  ['editing-knows-only-scores', 'music/editing/file.ts', `import '../formats/abc.ts';`],
  ['formats-know-only-scores', 'music/formats/parts.ts', `import type {} from '../parts/part.ts';`],
  ['order-stands-on-parts', 'music/order/text.ts', `import '../formats/abc.ts';`],
  ['best-order-knows-no-page', 'music/order/best/page.ts', `import '../../formats/abc.ts';`],
  ['parts-know-no-order', 'music/parts/week.ts', `import '../order/lengths.ts';`],
  ['sheet-is-the-top', 'music/parts/page.ts', `import '../sheet/sheet.ts';`],
  ['contract-knows-music-and-zod', 'server/contract/rows.ts', `import 'fastify';`],
  ['store-knows-its-rows', 'server/store/requests.ts', `import 'fastify';`],
  [
    'rooms-are-made-in-one-place',
    'server/services/rows.ts',
    `import '#server/store/songs.store.ts';`,
  ],
  [
    'rooms-never-see-the-bare-database',
    'server/store/members.store.ts',
    `import type { open } from './database.ts'; export type Open = typeof open;`,
  ],
  ['only-the-store-knows-the-database', 'server/plugins/rows.ts', `import '@prisma/client';`],
  [
    'services-know-no-http',
    'server/services/reply.ts',
    `import type { FastifyReply } from 'fastify'; export type Reply = FastifyReply;`,
  ],
  [
    'routes-are-declarations',
    'server/routes/rows.routes.ts',
    `import '#server/store/songs.store.ts';`,
  ],
  [
    'render-knows-music-and-the-engraver',
    'server/render/songs.ts',
    `import '#server/services/find-songs.ts';`,
  ],
  [
    'reading-knows-only-music',
    'server/reading/songs.ts',
    `import '#server/services/find-songs.ts';`,
  ],
  [
    'planning-knows-only-music',
    'server/planning/songs.ts',
    `import '#server/services/find-songs.ts';`,
  ],
  ['threads-know-no-work', 'server/threads/songs.ts', `import '#music';`],
  ['server-knows-no-page', 'server/page.ts', `import '#web/api/songs.ts';`],
  ['web-enters-only-the-contract', 'web/entry.ts', `import '#server/app.ts';`],
  ['api-knows-contract-and-music', 'web/api/screen.ts', `import '#web/state/song.svelte.ts';`],
  ['state-has-no-markup', 'web/state/markup.svelte.ts', `import '#web/parts/Staff.svelte';`],
  ['plan-knows-only-music', 'web/plan/songs.ts', `import '#web/api/songs.ts';`],
  ['engrave-knows-music-and-the-engraver', 'web/engrave/late.ts', `import '#web/api/songs.ts';`],
  [
    'parts-know-no-app',
    'web/parts/Loaded.svelte',
    `<script lang="ts">import { State } from '#web/state/song.svelte.ts'; const state = new State();</script>{state}`,
  ],
  [
    'pages-reach-the-network-through-state',
    'web/pages/people/asking.ts',
    `import '#web/api/songs.ts';`,
  ],
  // Used in the markup only.
  [
    'pages-know-no-sister',
    'web/pages/people/Card.svelte',
    `<script lang="ts">import Line from '../song/Line.svelte';</script>\n<section><Line /></section>`,
  ],
  ['the-engraver-has-two-rooms', 'web/pages/song/drawing.ts', `import 'verovio/esm';`],
  ['no-cycles', 'music/voice/one.ts', `import './two.ts';`],
  ['tests-stay-outside', 'server/fake.ts', `import '#test/support/builder.ts';`],
];
const HELPERS = { 'music/voice/two.ts': `import './one.ts';` };

let tree = '';
let broken: string[] = [];

async function violations(base: string): Promise<string[]> {
  const { options, ...ruleSet } = walls;
  const { output } = await cruise(ROOMS, { ...options, baseDir: base, ruleSet, validate: true });
  return (output as ICruiseResult).summary.violations.map(
    (found) => `${found.rule.name}: ${found.from}`,
  );
}

function build(files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(tree, name)), { recursive: true });
    writeFileSync(join(tree, name), text);
  }
}

beforeAll(async () => {
  tree = mkdtempSync(join(tmpdir(), 'partbook-walls-'));
  const { imports } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  build({ 'package.json': JSON.stringify({ type: 'module', imports }), 'prisma/.keep': '' });
  symlinkSync(join(root, 'node_modules'), join(tree, 'node_modules'));
  build(HOUSE);
  expect(await violations(tree)).toEqual([]);
  build(HELPERS);
  build(Object.fromEntries(PLANTED.map(([, file, text]) => [file, text])));
  broken = await violations(tree);
});

afterAll(() => rmSync(tree, { recursive: true, force: true }));

describe('The walls of the house', () => {
  it.each(PLANTED)('%s: caught in %s', (wall, file) => {
    expect(broken).toContain(`${wall}: ${file}`);
  });

  it('all have a planted violation and a reason', () => {
    const names = walls.forbidden?.map((rule) => rule.name);
    expect(PLANTED.map(([wall]) => wall).sort()).toEqual([...(names ?? [])].sort());
    for (const rule of walls.forbidden ?? []) expect(rule.comment?.length).toBeGreaterThan(20);
  });
});
