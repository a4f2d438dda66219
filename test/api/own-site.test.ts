import { describe, expect, it } from 'vitest';
import { ownApp } from '#test/support/api.ts';
import { expectProblem } from '#test/support/problem.ts';

describe('the name in Host', () => {
  it.each([
    'localhost:3000',
    'LOCALHOST',
    'stand.localhost:3000',
    '127.0.0.1:3000',
    '[::1]:3000',
    '192.168.1.20:3000',
  ])('may be %s', async (host) => {
    const { api } = await ownApp();
    await api.get('/api/team').set('host', host).expect(200);
  });

  it.each([
    'evil.example',
    'localhost.evil.example',
    '127.0.0.1.evil.example:3000',
    'team.example',
  ])('may not be %s, so that no page elsewhere can point its own name here', async (host) => {
    const { api } = await ownApp();
    const answer = await api.get('/api/team').set('host', host);
    expect(expectProblem(answer, 'unknown-host').detail).toContain('ALLOWED_HOSTS');
  });

  it('may be one that the settings allow', async () => {
    const { api } = await ownApp({ allowedHosts: ['team.example'] });
    await api.get('/api/team').set('host', 'team.example').expect(200);
    expectProblem(await api.get('/api/team').set('host', 'other.example'), 'unknown-host');
  });
});

describe('a write', () => {
  it.each([
    ['another site', { 'sec-fetch-site': 'cross-site' }],
    ['another port of this machine', { 'sec-fetch-site': 'same-site' }],
    ['another origin', { origin: 'https://evil.example' }],
    ['another port by its origin', { host: 'localhost:3000', origin: 'http://localhost:4000' }],
    ['a page without an origin', { origin: 'null' }],
  ])('from %s is refused and changes nothing', async (_, headers) => {
    const { api } = await ownApp();
    const answer = await api.post('/api/members').set(headers).send({ name: 'Ruth' });
    expectProblem(answer, 'cross-site');
    expect((await api.get('/api/members')).body).toEqual({ members: [] });
  });

  it.each([
    [
      'our own pages',
      { host: 'localhost:3000', origin: 'http://localhost:3000', 'sec-fetch-site': 'same-origin' },
    ],
    ['a program without a browser', {}],
  ])('from %s is taken', async (_, headers) => {
    const { api } = await ownApp();
    await api.post('/api/members').set(headers).send({ name: 'Ruth' }).expect(201);
  });

  it('from another site is refused for every changing method', async () => {
    const { api } = await ownApp();
    for (const method of ['post', 'patch', 'delete', 'put'] as const) {
      const answer = await api[method]('/api/members/x').set('sec-fetch-site', 'cross-site');
      expectProblem(answer, 'cross-site');
    }
    await api.get('/api/members').set('sec-fetch-site', 'cross-site').expect(200);
  });
});

describe('every answer', () => {
  it('carries the headers that keep other pages out', async () => {
    const { api } = await ownApp();
    for (const path of ['/api/team', '/api/none']) {
      const { headers } = await api.get(path);
      const policy = Object.fromEntries(
        (headers['content-security-policy'] ?? '').split(';').map((part: string) => {
          const [name = '', ...values] = part.trim().split(' ');
          return [name, values.join(' ')];
        }),
      );
      expect(policy).toEqual({
        'default-src': "'self'",
        'script-src': "'self' 'wasm-unsafe-eval'",
        'worker-src': "'self' blob:",
        'style-src': "'self' 'unsafe-inline'",
        'img-src': "'self' data: blob:",
        'media-src': "'self' blob:",
        'font-src': "'self'",
        'connect-src': "'self'",
        'object-src': "'none'",
        'base-uri': "'self'",
        'form-action': "'self'",
        'frame-ancestors': "'none'",
      });
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
      });
      // Plain http on this machine must stay plain http.
      expect(headers).not.toHaveProperty('strict-transport-security');
      expect(headers['permissions-policy']).toContain('camera=()');
    }
  });
});
