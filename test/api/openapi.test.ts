import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, it } from 'vitest';
import { PROBLEMS } from '#server/contract/problems.ts';
import { REACHABLE_WITHOUT_PASSPHRASE } from '#server/plugins/access.ts';
import { ownApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

interface Operation {
  readonly responses: Readonly<Record<string, { readonly content?: Record<string, unknown> }>>;
  readonly summary?: string;
}
interface OpenApi {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, unknown>> };
}

async function document(): Promise<OpenApi> {
  const { api } = await ownApp();
  return (await api.get('/api/openapi.json').expect(200)).body as OpenApi;
}

/**
 * Every route and each status it may answer; left out are those that any route may answer, and 401, which every route
 * may answer that is not listed as reachable.
 */
const ROUTES: Readonly<Record<string, readonly number[]>> = {
  'get /api/health': [200],
  'get /api/problems/{code}': [200, 404],
  'get /api/access': [200],
  'post /api/access/session': [204, 413, 415, 429],
  'delete /api/access/session': [204],
  'put /api/access/passphrase': [204, 413, 415, 429],
  'get /api/addresses': [200],
  'get /api/team': [200],
  'patch /api/team': [200, 409, 412, 413, 415, 428],
  'get /api/songs': [200],
  'post /api/songs': [200, 201, 404, 413, 415, 422, 503],
  'get /api/songs/search': [200, 422],
  'get /api/songs/by-notes': [200, 422],
  'get /api/songs/year': [200],
  'post /api/songs/double': [200, 413, 415],
  'get /api/songs/{id}/same-meter': [200, 404],
  'get /api/songs/{id}/file': [200, 304, 404, 422],
  'get /api/library': [200, 422],
  'post /api/library': [200, 413, 415, 422, 503],
  'delete /api/library/import': [204],
  'post /api/imports': [200, 413, 415, 503],
  'get /api/songs/{id}': [200, 404],
  'get /api/songs/{id}/source': [200, 404],
  'patch /api/songs/{id}': [200, 404, 412, 413, 415, 422, 428],
  'put /api/songs/{id}/score': [200, 404, 412, 413, 415, 422, 428],
  'put /api/songs/{id}/details': [200, 404, 412, 413, 415, 422, 428],
  'delete /api/songs/{id}': [204, 404, 412, 428],
  'post /api/songs/{id}/restore': [200, 404, 412, 428],
  'get /api/songs/{id}/arrangement': [200, 404],
  'patch /api/songs/{id}/arrangement': [200, 404, 412, 413, 415, 422, 428],
  'get /api/songs/{id}/key-fit': [200, 304, 404, 422],
  'get /api/songs/{id}/sheet': [200, 304, 404, 422, 503],
  'get /api/songs/{id}/part': [200, 304, 404, 422],
  'get /api/songs/{id}/score-systems': [200, 304, 404, 422, 503],
  'get /api/songs/{id}/musicxml': [200, 304, 404, 422],
  'get /api/members': [200],
  'post /api/members': [201, 413, 415],
  'get /api/members/{id}': [200, 404],
  'patch /api/members/{id}': [200, 404, 412, 413, 415, 428],
  'delete /api/members/{id}': [204, 404, 412, 428],
  'post /api/members/{id}/restore': [200, 404, 412, 428],
  'get /api/members/{id}/known': [200, 304, 404],
  'get /api/services': [200],
  'post /api/services': [201, 404, 413, 415, 422],
  'get /api/services/{id}': [200, 404],
  'patch /api/services/{id}': [200, 404, 412, 413, 415, 422, 428],
  'delete /api/services/{id}': [204, 404, 412, 428],
  'post /api/services/{id}/restore': [200, 404, 412, 428],
  'get /api/services/{id}/packets': [200, 304, 404, 422, 503],
  'get /api/services/{id}/packets/{member}': [200, 304, 404, 503],
  'get /api/services/{id}/pages/{member}': [200, 304, 404, 503],
  'get /api/services/{id}/pages/{member}/files': [200, 304, 404],
  'get /api/services/{id}/pages/{member}/parts': [200, 304, 404],
  'get /api/services/{id}/shapes/{member}': [200, 304, 404],
  'get /api/services/{id}/links': [200, 404],
  'post /api/services/{id}/best-order': [200, 404, 413, 415, 422, 503],
  'post /api/services/{id}/links': [201, 404, 413, 415],
  'patch /api/links/{id}': [200, 404, 412, 413, 415, 428],
  'post /api/set/{link}/session': [204, 404, 410, 413, 415, 429],
  'delete /api/set/{link}/session': [204],
  'get /api/set/{link}': [200, 404, 410],
  'get /api/set/{link}/packets/{member}': [200, 304, 404, 410, 429, 503],
  'get /api/set/{link}/pages/{member}': [200, 304, 404, 410, 429, 503],
  'get /api/set/{link}/pages/{member}/files': [200, 304, 404, 410, 429],
  'get /api/set/{link}/pages/{member}/parts': [200, 304, 404, 410, 429],
  'put /api/set/{link}/people/{member}/range': [200, 404, 410, 413, 415],
};
const ALWAYS = [400, 403, 500];

describe('GET /api/openapi.json', () => {
  it('is OpenAPI 3.1 and lists every route with every status', async () => {
    const { openapi, paths } = await document();
    expect(openapi).toMatch(/^3\.1\./);
    const listed = Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, { responses }]) => [
        `${method} ${path}`,
        Object.keys(responses)
          .map(Number)
          .filter((status) => status !== 401 && !ALWAYS.includes(status)),
      ]),
    );
    expect(Object.fromEntries(listed)).toEqual(ROUTES);
    for (const methods of Object.values(paths)) {
      for (const { responses, summary } of Object.values(methods)) {
        expect(Object.keys(responses).map(Number)).toEqual(expect.arrayContaining(ALWAYS));
        expect(summary).toMatch(/^[A-Z].+[^.]$/);
      }
    }
  });

  it('says 401 of every route but those that are listed as reachable without the passphrase', async () => {
    const { paths } = await document();
    const reachable = REACHABLE_WITHOUT_PASSPHRASE.map(
      ({ method, url }) => `${method.toLowerCase()} ${url.replaceAll(/:(\w+)/g, '{$1}')}`,
    );
    const open = Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods)
        .filter(([, { responses }]) => !responses['401'])
        .map(([method]) => `${method} ${path}`),
    );
    // The app's files and this document are no routes of the document.
    const undocumented = ['get /*', 'get /api/openapi.json'];
    expect([...open, ...undocumented].sort()).toEqual([...reachable].sort());
  });

  it('fits the JSON Schema of OpenAPI 3.1', async () => {
    // spec.openapis.org/oas/3.1/schema, as the validator carries it.
    const validator = new Validator();
    const result = await validator.validate({ ...(await document()) });
    expect(result).toEqual({ valid: true });
    expect(validator.version).toBe('3.1');
  });

  it('describes each problem as problem details', async () => {
    const { paths } = await document();
    for (const [path, methods] of Object.entries(paths)) {
      for (const { responses } of Object.values(methods)) {
        for (const [status, { content }] of Object.entries(responses)) {
          if (Number(status) < 400) continue;
          expect(content, `${path} ${status}`).toEqual({
            'application/problem+json': { schema: { $ref: '#/components/schemas/ProblemDetails' } },
          });
        }
      }
    }
  });

  it('points only at schemas that it has', async () => {
    const api = await document();
    const text = JSON.stringify(api);
    const named = [...text.matchAll(/"#\/components\/schemas\/([^"]+)"/g)].map(([, name]) => name);
    expect(named.length).toBeGreaterThan(20);
    for (const name of named) expect(Object.keys(api.components.schemas)).toContain(name);
  });
});

describe('GET /api/problems/:code', () => {
  it('explains each of them', async () => {
    const { api } = await ownApp();
    for (const [code, { status, title }] of Object.entries(PROBLEMS)) {
      const { body } = await api.get(`/api/problems/${code}`).expect(200);
      expect(body).toEqual({ code, status, title });
    }
  });

  it('answers 404 to any other', async () => {
    const { api } = await ownApp();
    expectProblem(await api.get('/api/problems/constructor'), 'not-found');
  });
});

describe('GET /api/team and GET /api/health', () => {
  it('answer', async () => {
    const { api, teamId } = await ownApp();
    const team = await api.get('/api/team').expect(200);
    expect(team.body).toMatchObject({ id: teamId, name: 'Mill Lane', version: 1 });
    expect((await api.get('/api/health').expect(200)).body).toEqual({ status: 'ok' });
  });
});
