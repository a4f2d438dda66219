import { zipSync } from 'fflate';
import { Abc, NO_DETAILS } from '#music';
import type { TestApp } from '#test/support/api.ts';
import type { Things } from '#test/support/reach.ts';
import { PASSPHRASE } from '#test/support/visitors.ts';

export interface Route {
  readonly method: string;
  /** As OpenAPI has it: `/api/songs/{id}`. */
  readonly path: string;
  readonly hasBody: boolean;
}

/** What a cell of the matrix sends. */
export interface Sent {
  readonly url: string;
  readonly body: object | null;
}

interface Named {
  /** What the body names. */
  readonly things: Things;
  readonly secret: string;
  /** What whoever asks says is the passphrase. */
  readonly said: string;
}

/** A library of no songs. */
function emptyLibrary(): Buffer {
  const manifest = JSON.stringify({ layout: 'partbook-library', version: 1, songs: [] });
  return Buffer.from(zipSync({ 'manifest.json': Buffer.from(manifest) }));
}

function writtenScore(): object {
  const read = Abc.read('X:1\nT:Edited\nM:4/4\nL:1/4\nK:C\nCDEF|\n');
  if (!read.ok || !read.value[0]) throw new Error('the tune is readable');
  return read.value[0];
}

/**
 * A body that fits, for every route that takes one. A route that is not here fails the matrix: whoever adds one says
 * what it takes.
 */
const BODIES: Readonly<Record<string, (named: Named) => object>> = {
  'post /api/access/session': ({ said }) => ({ passphrase: said }),
  'put /api/access/passphrase': ({ said }) => ({ passphrase: PASSPHRASE, current: said }),
  'patch /api/team': () => ({ name: 'Mill Lane' }),
  'post /api/songs': () => ({ format: 'abc', text: 'X:1\nT:New\nM:4/4\nL:1/4\nK:C\nCDEF|\n' }),
  'post /api/songs/double': () => ({ title: 'New', firstLine: null, lines: [], steps: [] }),
  'post /api/library': emptyLibrary,
  'post /api/imports': () => ({
    files: [
      { name: 'new.abc', bytes: Buffer.from('X:1\nT:Brought\nK:C\nCDEF|\n').toString('base64') },
    ],
  }),
  'patch /api/songs/{id}': () => ({ key: { tonic: 'C', mode: 'major' } }),
  'put /api/songs/{id}/score': () => ({ score: writtenScore() }),
  'put /api/songs/{id}/details': () => ({ details: NO_DETAILS, privateNote: '' }),
  'patch /api/songs/{id}/arrangement': ({ things: { member } }) => ({
    lead: member,
    singers: [member],
  }),
  'post /api/members': () => ({ name: 'New' }),
  'patch /api/members/{id}': () => ({ reach: 11 }),
  'post /api/services': ({ things: { service, song, member } }) => ({
    date: '2026-04-05',
    from: service,
    items: [{ id: 'n', kind: 'song', song, lead: member }],
  }),
  'patch /api/services/{id}': ({ things: { song, member } }) => ({
    items: [{ id: 'a', kind: 'song', song, lead: member }],
    people: [{ member, roles: ['keys', 'lead voice'] }],
  }),
  'post /api/services/{id}/best-order': ({ things: { member } }) => ({ most: { [member]: 1 } }),
  'post /api/services/{id}/links': () => ({}),
  'patch /api/links/{id}': () => ({ marksRanges: true }),
  'post /api/set/{link}/session': ({ secret }) => ({ secret }),
  'put /api/set/{link}/people/{member}/range': () => ({ comfortable: { low: 'A3', high: 'C5' } }),
};

/** Questions that name things too. */
const QUERIES: Readonly<Record<string, (things: Things) => string>> = {
  'get /api/songs/{id}/key-fit': ({ member }) => `?singers=${member}`,
  'delete /api/library/import': () => '?import=none',
  'get /api/songs/by-notes': () => '?notes=C4,D4,E4,F4',
  'get /api/songs/{id}/file': () => '?as=musicxml',
  'get /api/songs/{id}/part': ({ member }) => `?player=${member}`,
  'get /api/songs/{id}/sheet': ({ member }) => `?player=${member}`,
};

const BY_ROOM: Readonly<Record<string, keyof Things>> = {
  songs: 'song',
  members: 'member',
  services: 'service',
  links: 'link',
};

/** What a parameter of a path stands for: `{id}` after `songs` a song, `{member}` a member. */
function thingOf(path: string, name: string): keyof Things {
  if (name === 'member' || name === 'link' || name === 'code') return name;
  const room = /^\/api\/(\w+)\/\{id\}/.exec(path)?.[1] ?? '';
  const thing = name === 'id' ? BY_ROOM[room] : undefined;
  if (!thing) throw new Error(`say what {${name}} of ${path} stands for`);
  return thing;
}

/** The first thing of the path is one of `first`, whatever else is named one of `rest`. */
export function sent(
  { method, path, hasBody }: Route,
  first: Things,
  rest: Things,
  asker: Omit<Named, 'things'>,
): Sent {
  const route = `${method === 'head' ? 'get' : method} ${path}`;
  let names = 0;
  const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => {
    names += 1;
    return (names === 1 ? first : rest)[thingOf(path, name)];
  });
  const make = BODIES[route];
  if (hasBody && !make) throw new Error(`say in BODIES what ${route} takes`);
  return {
    url: `${filled}${QUERIES[route]?.(rest) ?? ''}`,
    body: make?.({ things: rest, ...asker }) ?? null,
  };
}

interface Operation {
  readonly requestBody?: unknown;
}

/** Reading before writing, deleting late, bringing back and signing out last. */
function rank({ method, path }: Route): number {
  if (path === '/api/access/session' && method === 'delete') return 9;
  if (path.endsWith('/restore')) return 8;
  return ['get', 'head', 'patch', 'put', 'post', 'delete'].indexOf(method);
}

/** Every route there is, from the app's own description. */
export async function routesOf(api: TestApp['api']): Promise<Route[]> {
  const { body } = await api.get('/api/openapi.json').expect(200);
  const paths = body.paths as Record<string, Record<string, Operation>>;
  const routes = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, { requestBody }]) => ({
      method,
      path,
      hasBody: requestBody !== undefined,
    })),
  );
  // A server answers HEAD wherever it answers GET, and the description does not say so (RFC 9110, 9.3.2).
  const heads = routes.filter(({ method }) => method === 'get');
  routes.push(...heads.map((route) => ({ ...route, method: 'head' })));
  return routes.sort((one, other) => rank(one) - rank(other));
}
