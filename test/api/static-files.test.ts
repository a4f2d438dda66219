import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { describe, expect, it, onTestFinished } from 'vitest';
import { ownApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

const PAGE = '<!doctype html><title>Partbook</title>';
const SCRIPT = 'console.log(1);'.repeat(200);

/** A small built app: a page, a script with its compressed twins, a file without. */
function builtApp(): string {
  const root = mkdtempSync(join(tmpdir(), 'partbook-web-'));
  onTestFinished(() => rmSync(root, { recursive: true, force: true }));
  mkdirSync(join(root, 'assets'));
  writeFileSync(join(root, 'index.html'), PAGE);
  writeFileSync(join(root, 'robots.txt'), 'User-agent: *');
  writeFileSync(join(root, 'assets/app-1a2b3c.js'), SCRIPT);
  writeFileSync(join(root, 'assets/app-1a2b3c.js.br'), brotliCompressSync(SCRIPT));
  writeFileSync(join(root, 'assets/app-1a2b3c.js.gz'), gzipSync(SCRIPT));
  return root;
}

describe('GET of the app’s files', () => {
  it('answers every place inside the app with the page, never from a cache', async () => {
    const { api } = await ownApp({ webRoot: builtApp() });
    for (const path of ['/', '/songs', '/songs/some-id/sheet?key=F']) {
      const answer = await api.get(path).expect(200);
      expect(answer.text, path).toBe(PAGE);
      expect(answer.headers['cache-control'], path).toBe('no-cache');
      expect(answer.headers['content-type'], path).toMatch(/^text\/html/);
    }
  });

  it('sends built files for good, and compressed where the browser takes it', async () => {
    const { api } = await ownApp({ webRoot: builtApp() });
    for (const [accepted, encoding] of [
      ['br, gzip', 'br'],
      ['gzip', 'gzip'],
      ['identity', undefined],
    ] as const) {
      const { headers } = await api
        .get('/assets/app-1a2b3c.js')
        .set('accept-encoding', accepted)
        .responseType('blob')
        .expect(200);
      expect(headers['content-encoding'], accepted).toBe(encoding);
      expect(headers['cache-control'], accepted).toBe('public, max-age=31536000, immutable');
      expect(headers['content-type'], accepted).toMatch(/^(text|application)\/javascript/);
    }
  });

  it('gives nothing of what lies outside the folder', async () => {
    const { api } = await ownApp({ webRoot: builtApp() });
    for (const path of [
      '/../package.json',
      '/%2e%2e/package.json',
      '/..%5cpackage.json',
      '/.env',
    ]) {
      const answer = await api.get(path);
      expect([400, 403, 404], path).toContain(answer.status);
      expect(answer.headers['content-type'], path).toMatch(/^application\/problem\+json/);
    }
  });

  it('answers 404 to a file that is not there, and to a write', async () => {
    const { api } = await ownApp({ webRoot: builtApp() });
    expectProblem(await api.get('/assets/old-999.js'), 'not-found');
    expectProblem(await api.post('/songs').send({}), 'not-found');
  });

  it('answers an unknown API path with a problem and not with the page', async () => {
    const { api } = await ownApp({ webRoot: builtApp() });
    for (const path of ['/api', '/api/', '/api/none', '/api/songs/x/none']) {
      expectProblem(await api.get(path), 'not-found');
    }
    expectProblem(await api.put('/api/songs'), 'not-found');
  });

  it('serves the API alone where nothing is built', async () => {
    const { api } = await ownApp({ webRoot: '/nowhere' });
    expectProblem(await api.get('/'), 'not-found');
    await api.get('/api/team').expect(200);
  });
});

describe('API answers', () => {
  it('travel compressed where it is worth it', async () => {
    const { api } = await ownApp();
    const plain = await api.get('/api/openapi.json').set('accept-encoding', 'identity').expect(200);
    expect(plain.headers).not.toHaveProperty('content-encoding');
    for (const encoding of ['gzip', 'br']) {
      const { headers, body } = await api
        .get('/api/openapi.json')
        .set('accept-encoding', encoding)
        .expect(200);
      expect(headers).toMatchObject({ 'content-encoding': encoding, vary: 'accept-encoding' });
      expect(body).toEqual(plain.body);
      expect(Number(headers['content-length'])).toBeLessThan(plain.text.length / 4);
    }
    const small = await api.get('/api/health').set('accept-encoding', 'br').expect(200);
    expect(small.headers).not.toHaveProperty('content-encoding');
  });

  it('tell HEAD what GET would', async () => {
    const { api } = await ownApp();
    const get = await api.get('/api/songs').expect(200);
    const head = await api.head('/api/songs').expect(200);
    expect(head.headers['etag']).toBe(get.headers['etag']);
    expect(head.text ?? '').toBe('');
  });
});
